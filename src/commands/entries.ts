import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { believe } from '../belief/believe.ts';
import type { Entry, LedgerEvent } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import { bandsDocument, statesDocument } from '../render/documents.ts';
import { comparedDocument } from '../render/documents-reading.ts';
import { entriesTable, type StateAfter } from '../render/entries.ts';
import { aligned, tabSeparated } from '../render/table.ts';
import { readable } from './clock.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { noneText } from './export-none.ts';
import { EXIT, usage } from './fault.ts';
import { tellRefused, tellUncounted } from './tell.ts';
import { readWhen } from './when.ts';

/** On a terminal; a band takes a millisecond or two to work out, and nobody reads so many. */
const MOST_BANDED = 500;

/** `entries`: the events that count, filtered; with `--states`, both baths right after each. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const opened = await context.open();
  const wanted = await filterOf(options, opened);
  const chosen = lastOf(opened.settled.entries.filter(wanted), options.last);
  const bands = context.json || (context.onTerminal && chosen.length <= MOST_BANDED);
  const states = options.states === true ? await statesAfter(context, opened, { chosen, bands }) : undefined;
  if (context.json) {
    context.printJson('entries', opened.clockMs, {
      entries: chosen.map((entry) => entryDocument(entry, states, opened.shop)),
    });
  } else {
    const table = entriesTable(chosen, {
      states,
      shop: opened.shop,
      when: readable,
      bands,
      ...(context.onTerminal ? { width: context.width } : {}),
    });
    context.print(
      context.onTerminal ? await aligned(table, context.paint, context.width) : tabSeparated(table),
    );
    if (chosen.length === 0) context.note(noneText(eventsIn(opened), options, 'entry'));
    if (states && context.onTerminal && !bands)
      context.note(
        `Bands are left out of so long a list; --last ${MOST_BANDED}, or --from and --to, show them`,
      );
  }
  tellUncounted(context, opened.settled);
  return EXIT.done;
}

function eventsIn({ settled }: Opened): LedgerEvent[] {
  return settled.entries.map(({ event }) => event);
}

type States = Map<string, StateAfter>;

/** Both baths right after each entry; after one that cannot have happened, as they were without it. */
async function statesAfter(
  context: Context,
  opened: Opened,
  { chosen, bands }: { chosen: readonly Entry[]; bands: boolean },
): Promise<States> {
  const { shop, settled, clockMs } = opened;
  const ids = new Set(chosen.map(({ event }) => event.id));
  const states: States = new Map();
  const { replayed, belief } = believe(shop, settled.entries, clockMs, {
    watchRecords: true,
    watch: ({ entry, baths }: Step, { ensemble }) => {
      if (!ids.has(entry.event.id)) return;
      const band = bands ? { band: bandsDocument(baths, shop, ensemble.at(entry.atMs)) } : {};
      states.set(entry.event.id, { state: statesDocument(baths, shop), ...band });
    },
  });
  for (const one of belief.compared) {
    const state = states.get(one.entry.event.id);
    if (state) state.compared = one;
  }
  await tellRefused(context, opened, replayed.refused);
  return states;
}

function entryDocument(entry: Entry, states: States | undefined, shop: Shop): Record<string, unknown> {
  const { state, band, compared } = states?.get(entry.event.id) ?? {};
  return {
    ...entry.event,
    ...(entry.amendedBy ? { amended_by: entry.amendedBy } : {}),
    ...(state ? { state, band } : {}),
    ...(compared ? { compared: comparedDocument(compared, shop) } : {}),
  };
}

/** One test made of all the filters given. */
async function filterOf(options: Options, { shop, clockMs }: Opened): Promise<(entry: Entry) => boolean> {
  const fromMs =
    typeof options.from === 'string'
      ? await readWhen(options.from, clockMs, 'starts')
      : Number.NEGATIVE_INFINITY;
  const toMs =
    typeof options.to === 'string' ? await readWhen(options.to, clockMs, 'starts') : Number.POSITIVE_INFINITY;
  if (typeof options.bath === 'string' && !shop.tubPlace.has(options.bath)) {
    throw usage(
      `Cannot find a bath named "${options.bath}"`,
      `the baths are ${[...shop.tubPlace.keys()].join(', ')}`,
    );
  }
  const what = typeof options.what === 'string' ? kindOf(options.what) : undefined;
  return ({ event, atMs }) =>
    atMs >= fromMs &&
    atMs < toMs &&
    (what === undefined || event.what === what) &&
    (options.by === undefined || event.by === options.by) &&
    (options.lot === undefined || ('lot' in event && event.lot === options.lot)) &&
    (options.case === undefined ||
      ('cases' in event && event.cases?.includes(String(options.case)) === true)) &&
    (options.bath === undefined ||
      touches(
        event,
        String(options.bath),
        shop.usualRoute.map((place) => shop.tubs[place]!.name),
      ));
}

const KINDS = [
  'fill',
  'wash',
  'top-up',
  'drain',
  'rotate',
  'refill',
  'reading',
  'weighed',
  'inspect',
  'stock',
  'waste',
  'reclaim',
] as const satisfies Entry['event']['what'][];

function kindOf(typed: string): string {
  const found = KINDS.find((kind) => kind === typed.toLowerCase());
  if (found) return found;
  throw usage(
    `Cannot list entries of the kind "${typed}"`,
    didYouMean(typed, KINDS) ?? `The kinds are ${KINDS.join(', ')}`,
  );
}

function touches(event: Entry['event'], bath: string, usualRoute: string[]): boolean {
  switch (event.what) {
    case 'wash':
      return (event.baths ?? usualRoute).includes(bath);
    case 'rotate':
      return bath === 'dirty' || bath === 'clean';
    case 'top-up':
      return event.bath === bath || event.from === bath;
    default:
      return 'bath' in event && event.bath === bath;
  }
}

function lastOf(entries: Entry[], last: Options[string]): Entry[] {
  if (last === undefined) return entries;
  const number = Number(last);
  if (!Number.isInteger(number) || number < 1)
    throw usage(`Cannot use --last ${String(last)}`, 'give a whole number from 1');
  return entries.slice(-number);
}
