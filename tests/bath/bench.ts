/**
 * A bench for tests of the model: an invented shop and its events as plain data, no files.
 */
import { type Replay, replay, type Step } from '../../src/bath/replay.ts';
import { openShop, type Shop } from '../../src/bath/shop.ts';
import { type Bath, copyBath } from '../../src/bath/state.ts';
import type { Entry, MovingEvent, RecordEvent } from '../../src/ledger/event.ts';
import type { BathHeader, Header } from '../../src/ledger/header.ts';

type WithoutStamp<E> = E extends unknown ? Omit<E, 'id' | 'at'> : never;
/** An event before it has an id and a time: `hour` counts from the start, by default that of the event before. */
export type Draft = WithoutStamp<MovingEvent | RecordEvent> & { hour?: number };

export const START_MS = Date.parse('2026-03-02T08:00:00Z');
const MS_PER_HOUR = 3_600_000;

/** A tub that neither loses to the air nor takes from it. */
const SEALED: BathHeader = {
  mark_ml: 4000,
  length_mm: 260,
  width_mm: 180,
  freeboard_mm: 50,
  evaporation: 0,
  moisture: 0,
};

/** A tub with the default lid and factors, written out. */
export const OPEN: BathHeader = { ...SEALED, lid_open_h: 1, evaporation: 1, moisture: 1 };

export function headerOf(
  baths: Record<string, Partial<BathHeader>>,
  more: Partial<Omit<Header, 'baths' | 'format'>> = {},
): Header {
  const tubs = Object.entries(baths).map(([name, bath]) => [name, { ...SEALED, ...bath }]);
  return { format: 'bathbook/1', shop: {}, ...more, baths: Object.fromEntries(tubs) };
}

/** A sealed pair with both marks at 4 L. */
export const PAIR = headerOf({ dirty: {}, clean: {} });

export function entriesOf(drafts: readonly Draft[]): Entry[] {
  let lastHour = 0;
  return drafts.map(({ hour = lastHour, ...event }, place) => {
    lastHour = hour;
    const atMs = START_MS + hour * MS_PER_HOUR;
    const stamped = { id: `e${place}`, at: new Date(atMs).toISOString(), ...event };
    return { event: stamped as Entry['event'], atMs, line: place + 1, place };
  });
}

/** A step with its own copies of the baths. */
interface Seen extends Omit<Step, 'before' | 'baths'> {
  baths: Bath[];
}

export interface Run {
  shop: Shop;
  entries: Entry[];
  replayed: Replay;
  /** What happened, one for each event that moved something. */
  seen: Seen[];
}

/** Replays drafts in a shop; the clock stands at `clockHour`, by default at the last event. */
export function run(header: Header, drafts: readonly Draft[], clockHour?: number): Run {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const lastMs = Math.max(START_MS, ...entries.map(({ atMs }) => atMs));
  const clockMs = clockHour === undefined ? lastMs : START_MS + clockHour * MS_PER_HOUR;
  const seen: Seen[] = [];
  const replayed = replay(shop, entries, clockMs, {
    watch: ({ before: _, ...step }) => seen.push({ ...step, baths: step.baths.map(copyBath) }),
  });
  return { shop, entries, replayed, seen };
}

/** Fills of dirty and clean to 4 L with the 99.5 wt% solvent. */
export const FILLED: Draft[] = [
  { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000 },
  { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000 },
];
