/**
 * Where the replay of a ledger has come to after its first events, so that the next one can go on from there. It only saves time: the
 * file is what counts, and a checkpoint of anything but the very bytes that stand in it is no checkpoint of it.
 */
import type { BelievedUnderway } from '../belief/believe.ts';
import type { Entry } from '../ledger/event.ts';
import type { MetSoFar } from '../outlook/since.ts';
import type { Movements } from '../records/movements.ts';

/** What is told of the first bytes of a ledger. Plain data. */
export interface Mark {
  /** The program that made it; another may replay otherwise. */
  build: string;
  /** How many bytes of the file it is of. */
  bytes: number;
  /** Of them, those up to the line `events:` and with it. */
  headBytes: number;
  /** Their latest time: at an earlier clock they would say something else. */
  latestMs: number;
}

/** What those bytes came to. Plain data, which a replay that goes on from it changes. */
export interface Reached {
  believed: BelievedUnderway;
  since: MetSoFar;
  movements: Pick<Movements, 'pours' | 'wastes'>;
  /** Those of its entries that are asked for later on, in order; see {@link stillAsked}. */
  entries: Entry[];
}

const MS_PER_DAY = 86_400_000;
/** Paces are taken from the last 28 days; the rest is for days that are not over and clocks that change. */
const ASKED_DAYS = 35;

/**
 * The entries that are asked for after their replay: whatever is about stock and waste, the washes that a pace is taken from, the first
 * wash, the last wash and the last measurement.
 *
 * @param entries - in order
 */
export function stillAsked(entries: readonly Entry[]): Entry[] {
  const fromMs = (entries.at(-1)?.atMs ?? 0) - ASKED_DAYS * MS_PER_DAY;
  const first = entries.find(isWash);
  const last = entries.findLast(isWash);
  const measured = entries.findLast(({ event }) => event.what === 'reading' || event.what === 'weighed');
  const named = new Set([first, last, measured, entries.at(-1)]);
  return entries.filter((entry) => entry.atMs >= fromMs || named.has(entry) || isMoved(entry));
}

function isWash({ event }: Entry): boolean {
  return event.what === 'wash';
}

function isMoved({ event }: Entry): boolean {
  switch (event.what) {
    case 'wash':
    case 'reading':
    case 'weighed':
    case 'inspect':
      return false;
    default:
      return true;
  }
}
