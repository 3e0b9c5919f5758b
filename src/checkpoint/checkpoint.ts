/**
 * Where the replay of a ledger has come to after its first events, so that the next one can go on from there. It only saves time: the
 * file is what counts, and a checkpoint of anything but the very bytes that stand in it is no checkpoint of it.
 */
import type { BelievedUnderway } from '../belief/believe.ts';
import type { Entry } from '../ledger/event.ts';
import type { MetSoFar } from '../outlook/since.ts';
import type { Movements } from '../records/movements.ts';
import type { Ids } from './ids.ts';

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
}

/** What is asked for of stock and waste, in order. Plain data. */
export interface Records {
  /** Everything that is about them, and what {@link lately} keeps. */
  entries: Entry[];
  movements: Pick<Movements, 'pours' | 'wastes'>;
}

/** What the first bytes of a ledger came to, wherever that is known from. */
export interface Checkpoint {
  readonly mark: Mark;
  /** Of all their events. */
  readonly ids: Ids;
  /** A fresh copy each time. */
  reached(): Reached;
  /** See {@link lately}. */
  lately(): Entry[];
  records(): Records;
  /**
   * Those bytes, piece by piece.
   *
   * @throws Error when they are no longer what they were
   */
  begun(): Iterable<Uint8Array>;
}

const MS_PER_DAY = 86_400_000;
/** Paces are taken from the last 28 days; the rest is for days that are not over, and clocks that change. */
const ASKED_DAYS = 31;

/**
 * The entries that are asked for whatever is asked: the washes that a pace is taken from, the first wash, the last measurement, the last
 * entry.
 *
 * @param entries - in order
 */
export function lately(entries: readonly Entry[]): Entry[] {
  const isLate = lateIn(entries);
  return entries.filter((entry) => isLate(entry));
}

/** The same, and whatever is about stock and waste. */
export function recorded(entries: readonly Entry[]): Entry[] {
  const isLate = lateIn(entries);
  return entries.filter((entry) => isLate(entry) || isMoved(entry));
}

function lateIn(entries: readonly Entry[]): (entry: Entry) => boolean {
  const fromMs = (entries.at(-1)?.atMs ?? 0) - ASKED_DAYS * MS_PER_DAY;
  const washes = entries.filter(({ event }) => event.what === 'wash');
  const measured = entries.findLast(({ event }) => event.what === 'reading' || event.what === 'weighed');
  const named = new Set([washes[0], washes.at(-1), measured, entries.at(-1)]);
  return (entry) => named.has(entry) || (entry.atMs >= fromMs && entry.event.what === 'wash');
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
