/**
 * At which events and moments the band is worked out: a look at every world costs as much as some hundred washes.
 *
 * The window is cut into columns. Looked at, right after, are the first and the last event of each, and those that change liquid or
 * teach, {@link MOST_A_COLUMN} in a column at most; these also right before. Between looks the band goes along straight lines.
 */
import type { Entry } from '../ledger/event.ts';

const COLUMNS = 200;
const MOST_A_COLUMN = 4;

/** A moment to look at, and whether the event at it has happened already. */
export interface LookPlan {
  /** Events a replay is watched at, in order, up to the end of the window. */
  watched: readonly Entry[];
  after: ReadonlySet<Entry>;
  before: ReadonlySet<Entry>;
}

/** @param entries - in order, none after the window */
export function lookPlan(entries: readonly Entry[], window: { fromMs: number; toMs: number }): LookPlan {
  const watched = entries.filter(isWatched);
  const after = new Set<Entry>();
  const before = new Set<Entry>();
  for (const column of columnsOf(watched, window)) {
    after.add(column[0]!).add(column.at(-1)!);
    for (const entry of spread(column.filter(turns), MOST_A_COLUMN)) {
      after.add(entry);
      before.add(entry);
    }
  }
  return { watched, after, before };
}

function isWatched({ event }: Entry): boolean {
  switch (event.what) {
    case 'fill':
    case 'wash':
    case 'top-up':
    case 'drain':
    case 'rotate':
    case 'refill':
    case 'reading':
      return true;
    default:
      return false;
  }
}

/** True of events that make a curve jump. */
function turns({ event }: Entry): boolean {
  return event.what !== 'wash';
}

function columnsOf(entries: readonly Entry[], window: { fromMs: number; toMs: number }): Entry[][] {
  const widthMs = Math.max(1, (window.toMs - window.fromMs) / COLUMNS);
  const columns = new Map<number, Entry[]>();
  for (const entry of entries) {
    if (entry.atMs <= window.fromMs) continue;
    const place = Math.floor((entry.atMs - window.fromMs) / widthMs);
    const column = columns.get(place);
    if (column) column.push(entry);
    else columns.set(place, [entry]);
  }
  return [...columns.values()];
}

/** At most so many of a list, evenly spread, its first and last among them. */
function spread<Item>(list: readonly Item[], most: number): readonly Item[] {
  if (list.length <= most) return list;
  return Array.from({ length: most }, (_, nth) => list[Math.round((nth * (list.length - 1)) / (most - 1))]!);
}
