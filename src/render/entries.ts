/** The list of entries: time, what happened in a few words, by whom; with states, both baths after each. */
import type { Shop } from '../bath/shop.ts';
import type { Compared } from '../belief/belief.ts';
import type { Entry, LedgerEvent } from '../ledger/event.ts';
import { comparedWords } from './compared.ts';
import type { StateBand } from './documents.ts';
import { banded, volume } from './format.ts';
import { printable } from './printable.ts';
import { readingWords, weighedWords } from './reading.ts';
import { partsText } from './report-words.ts';
import type { Table } from './table.ts';
import { casesWords, washWords } from './wash.ts';

/** What `statesDocument` and `bandsDocument` give, right after an entry. */
export interface StateAfter {
  state: Record<string, unknown>;
  /** Where bands are shown. */
  band?: Record<string, StateBand>;
  /** Of a reading that was taken in. */
  compared?: Compared;
}

interface View {
  shop: Shop;
  /** By id. */
  states: Map<string, StateAfter> | undefined;
  when: (ms: number) => string;
  /** Bands beside the estimates, for people; programs get them in the JSON document. */
  bands: boolean;
  /** Columns of the terminal; without it, every state has columns of its own. */
  width?: number;
}

/** What id, time, what and by take, what one bath takes with its band and without, and what the words need beside them. */
const ROOM = { before: 38, banded: 29, bare: 20, words: 30 };

/** One row an entry; on a terminal without initials where nobody gave any; with states, resin and volume of each bath right after it, in a narrow window below the words. */
export function entriesTable(entries: readonly Entry[], view: View): Table {
  const { bands, states, width = Number.POSITIVE_INFINITY } = view;
  const tubs = states ? view.shop.tubs.map(({ name }) => name) : [];
  const isWide = width >= ROOM.before + tubs.length * (bands ? ROOM.banded : ROOM.bare) + ROOM.words;
  const [names, below] = isWide ? [tubs, []] : [[], tubs];
  const isSigned = view.width === undefined || entries.some(({ event }) => event.by);
  const stateHeads = names.flatMap((name) => [`${name} wt%`, `${name} L`]);
  return {
    head: ['id', 'time', 'what', ...stateHeads, ...(isSigned ? ['by'] : []), 'details'],
    rows: entries.map((entry) => {
      const state = states?.get(entry.event.id);
      const words = [
        details(entry, view.shop, state?.compared),
        ...below.map((name) => stateWords(state, name, bands)),
      ];
      return [
        ...[entry.event.id, view.when(entry.atMs), entry.event.what].map(printable),
        ...names.flatMap((name) => stateCells(state, name, bands)),
        ...(isSigned ? [printable(entry.event.by ?? '')] : []),
        words.filter(Boolean).map(printable).join('\n'),
      ];
    }),
    right: stateHeads.map((_, column) => 3 + column),
  };
}

function stateCells(state: StateAfter | undefined, name: string, bands: boolean): string[] {
  if (!state) return ['', ''];
  const { resin_wt_pct, volume_ml } = state.state[name] as { resin_wt_pct: number | null; volume_ml: number };
  const litres = (volume_ml / 1000).toFixed(2);
  if (resin_wt_pct === null) return ['empty', litres];
  return [banded((bands && state.band?.[name]?.resin_wt_pct) || { p50: resin_wt_pct }), litres];
}

function stateWords(state: StateAfter | undefined, name: string, bands: boolean): string {
  const [resin, litres] = stateCells(state, name, bands);
  if (litres === '') return '';
  return `${name} ${resin === 'empty' ? 'empty' : `${resin} wt%, ${litres} L`}`;
}

function details({ event, amendedBy }: Entry, shop: Shop, compared: Compared | undefined): string {
  const amended = amendedBy ? [`amended by ${amendedBy.join(', ')}`] : [];
  const expected = compared ? [comparedWords(compared)] : [];
  return [eventWords(event, shop), ...expected, ...amended, ...(event.note ? [`"${event.note}"`] : [])]
    .filter(Boolean)
    .join('; ');
}

/** An event in a few words, with its note. */
export function eventText(event: LedgerEvent, shop: Shop): string {
  return [eventWords(event, shop), ...(event.note ? [`"${event.note}"`] : [])].filter(Boolean).join('; ');
}

/** An event in a few words. */
function eventWords(event: LedgerEvent, shop: Shop): string {
  switch (event.what) {
    case 'fill':
      return `${event.bath}: ${volume(event.ml)} of ${event.solvent}`;
    case 'wash':
      return [...(event.estimated ? ['estimated'] : []), washWords(event, shop), casesWords(event)]
        .filter(Boolean)
        .join('; ');
    case 'top-up':
      return `${event.bath}: ${event.ml === undefined ? 'to the mark' : volume(event.ml)}${event.from === 'clean' ? ' from clean' : ` with ${event.solvent ?? 'the last solvent'}`}`;
    case 'drain':
      return `${event.bath}: ${event.ml === undefined ? (event.to ? 'to the mark' : 'all') : volume(event.ml)}${event.into ? ` into ${event.into}` : ''}`;
    case 'rotate':
      return [
        event.solvent,
        event.ml === undefined ? undefined : volume(event.ml),
        event.into ? `into ${event.into}` : undefined,
      ]
        .filter(Boolean)
        .join(', ');
    case 'refill':
      return `${event.bath}${event.solvent ? ` with ${event.solvent}` : ''}${event.ml === undefined ? '' : `, ${volume(event.ml)}`}`;
    case 'reading':
      return `${event.bath}: ${readingWords(event)}`;
    case 'weighed':
      return `wash ${event.wash}: ${weighedWords(event)}`;
    case 'inspect':
      return `${event.result}${event.parts ? `, ${partsText(Object.entries(event.parts))}` : ''}${event.wash ? `, wash ${event.wash}` : ''}${event.cases?.length ? `, ${casesWords(event)}` : ''}`;
    case 'stock':
      return `${event.solvent}: ${event.received_ml === undefined ? `counted ${volume(event.counted_ml ?? 0)}` : `received ${volume(event.received_ml)}`}`;
    case 'waste':
      return `${event.container} ${event.action}`;
    case 'reclaim':
      return `${volume(event.ml)} ${event.method} from ${event.container} as ${event.solvent}`;
    case 'void':
      return `${event.of}: ${event.why}`;
    case 'amend':
      return `${event.of}: ${Object.keys(event.set).join(', ')}; ${event.why}`;
    default:
      return event satisfies never;
  }
}
