/** The command that logs an entry once more, as it was. */
import type { Shop } from '../bath/shop.ts';
import type { AmendEvent, InspectEvent, LedgerEvent, ReadingEvent, WashEvent } from '../ledger/event.ts';
import { writeFlow } from '../ledger/line.ts';
import { shellWord } from '../ledger/shell-word.ts';
import { readLoad } from './load-words.ts';

/** The words of a command; null where none can say it. */
type Words = string[] | null;

/**
 * The line to type for an entry as it was, with its time, initials and note; its id will be another.
 *
 * @returns null where no command says all of it: a wash from memory, or what was written by hand and cannot be typed
 */
export function logAgain(event: LedgerEvent, shop: Shop): string | null {
  const own = wordsOf(event, shop);
  if (own === null || own.some((word) => word === '')) return null;
  const all = [...own, ...option('at', event.at), ...option('by', event.by), ...option('note', event.note)];
  return ['bathbook', event.what, ...all].map(shellWord).join(' ');
}

function wordsOf(event: LedgerEvent, shop: Shop): Words {
  switch (event.what) {
    case 'fill':
      return solvent(event.solvent) && [event.bath, ...amount(event.ml), event.solvent];
    case 'top-up':
      return [
        event.bath,
        ...(event.ml === undefined ? ['to', 'mark'] : amount(event.ml)),
        ...option('solvent', event.solvent),
        ...option('from', event.from),
      ];
    case 'drain':
      return [
        event.bath,
        ...(event.ml === undefined ? (event.to ? ['to', 'mark'] : ['all']) : amount(event.ml)),
        ...option('into', event.into),
      ];
    case 'rotate':
    case 'refill':
      return [
        ...('bath' in event ? [event.bath] : []),
        ...option('solvent', event.solvent),
        ...option('ml', event.ml),
        ...option('into', event.into),
      ];
    case 'wash':
      return washOf(event, shop);
    case 'reading':
      return readingOf(event);
    case 'weighed':
      return [event.wash, ...option('wet', event.wet_g), ...option('clean', event.clean_g)];
    case 'inspect':
      return inspectOf(event, shop);
    case 'stock':
      return event.received_ml === undefined
        ? ['counted', event.solvent, ...amount(event.counted_ml!)]
        : [
            'received',
            event.solvent,
            ...amount(event.received_ml),
            ...option('lot', event.lot),
            ...option('price', event.price),
            ...option('supplier', event.supplier_note),
          ];
    case 'waste':
      return [
        event.action,
        event.container,
        ...(event.capacity_l === undefined ? [] : [String(event.capacity_l), 'L']),
        ...(event.ml === undefined ? [] : amount(event.ml)),
      ];
    case 'reclaim':
      return [
        event.container,
        ...amount(event.ml),
        ...option('method', event.method),
        ...option('as', event.solvent),
      ];
    case 'void':
      return [event.of, ...option('why', event.why)];
    case 'amend':
      return amendOf(event);
    default:
      return event satisfies never;
  }
}

/** After an amount, a name that begins like one cannot be told from it. */
function solvent(name: string): Words {
  return /^[a-z]/i.test(name) && !/^(?:of|with|the|to|all)$/i.test(name) ? [] : null;
}

function option(name: string, value: string | number | undefined): string[] {
  return value === undefined ? [] : [`--${name}`, String(value)];
}

/** With its unit, in litres from one litre on. */
function amount(ml: number): string[] {
  return ml < 1000 ? [String(ml), 'mL'] : [String(Number((ml / 1000).toFixed(7))), 'L'];
}

function washOf(wash: WashEvent, shop: Shop): Words {
  const load = wash.parts && partsOf(wash.parts, shop);
  if (wash.estimated || load === null) return null;
  if (wash.carry_g !== undefined && wash.carry_ml !== undefined) return null;
  return [
    ...(load ?? []),
    ...option('volume', wash.volume_ml),
    ...option('area', wash.area_cm2),
    ...option('resin', wash.resin),
    ...option('drained', wash.drained_min),
    ...option('prerinse', wash.prerinse),
    ...option('midrinse', wash.midrinse),
    ...option('minutes', wash.minutes && listOf(wash.minutes)),
    ...option('agitation', wash.agitation),
    ...option('in', wash.baths?.join(',')),
    ...option('carry', wash.carry_ml === undefined ? wash.carry_g : `${wash.carry_ml} mL`),
    ...option('drag', wash.drag_ml && listOf(wash.drag_ml)),
    ...option('trapped', wash.trapped_g),
    ...(wash.hollow ? ['--hollow'] : []),
    ...(wash.cases ?? []).flatMap((one) => option('case', one)),
    ...option('lot', wash.lot),
  ];
}

/** Counts before names; null where the names, typed, would be read as something else. */
function partsOf(parts: Record<string, number>, shop: Shop): Words {
  const words = Object.entries(parts).flatMap(([name, number]) => [String(number), name]);
  const read = readLoad(words, shop.parts);
  const isSame =
    'parts' in read &&
    Object.keys(read.parts).length === Object.keys(parts).length &&
    Object.entries(parts).every(([name, number]) => read.parts[name] === number);
  return isSame ? words : null;
}

/** With semicolons where a comma could be that of thousands. */
function listOf(values: readonly number[]): string {
  const list = values.join(',');
  return /,\d{3}(?!\d)/.test(list) ? values.join('; ') : list;
}

function readingOf(reading: ReadingEvent): string[] {
  return [
    reading.bath,
    ...option('density', reading.density_g_ml),
    ...option('sg', reading.sg),
    ...option('ref', reading.sg_ref),
    ...option('brix', reading.brix),
    ...option('index', reading.refractive_index),
    ...option('dry', reading.residue?.dry_g),
    ...option('sample', reading.residue?.sample_ml),
    ...option('resin', reading.resin_wt_pct),
    ...option('level', reading.level_ml),
    ...option('weight', reading.weight_g),
    ...option('temp', reading.temp_c),
    ...option('glass', reading.t_ref_c),
    ...option('sd', reading.sd),
  ];
}

function inspectOf({ result, wash, parts, cases = [] }: InspectEvent, shop: Shop): Words {
  const load = parts && partsOf(parts, shop);
  if (load === null || cases.length > 1 || (cases.length === 1 && wash === undefined)) return null;
  return [
    result,
    ...option('wash', wash ?? 'none'),
    ...option('parts', load?.join(' ')),
    ...option('case', cases[0]),
  ];
}

function amendOf({ of, set, why }: AmendEvent): Words {
  const changes = Object.entries(set).map(([key, value]) => changeOf(key, value));
  return changes.includes(null) ? null : [of, ...(changes as string[]), ...option('why', why)];
}

/** `key=value` as it is typed; null for a value that is read otherwise, or not at all. */
function changeOf(key: string, value: unknown): string | null {
  if (value === null) return null;
  if (typeof value === 'object') return `${key}=${writeFlow({ [key]: value }).slice(key.length + 3, -1)}`;
  const text = String(value);
  return text === text.trim() && /^[^[{]/.test(text) ? `${key}=${text}` : null;
}
