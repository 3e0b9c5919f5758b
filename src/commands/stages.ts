/**
 * Ledgers are long and commands are short: a replay goes on from where an earlier one had come to, and leaves where it came to for the
 * next. None of it shows: what does not fit, or is odd in any way, is read and replayed whole.
 */
import { realpathSync } from 'node:fs';
import { type Checkpoint, lately, type Reached, type Records, recorded } from '../checkpoint/checkpoint.ts';
import { type Cut, cutOf } from '../checkpoint/cut.ts';
import { checkpointFor, keepCheckpoint } from '../checkpoint/file.ts';
import { hashesOf, idsOf, mayHold } from '../checkpoint/ids.ts';
import type { Spans } from '../ledger/append-span.ts';
import type { Entry } from '../ledger/event.ts';
import type { Header } from '../ledger/header.ts';
import { type LedgerFile, readLedger } from '../ledger/read.ts';
import type { Settled } from '../ledger/settle.ts';
import { findEvents } from '../ledger/split.ts';
import type { Movements } from '../records/movements.ts';
import { catalogue } from '../substance/catalogue.ts';
import { suitShortWork } from './engine.ts';

/** Events that stay behind the cut: the last ones are undone, corrected and added to. */
const BEHIND = 30;
/** A cut further on is kept once so many events more stand before it: of a long ledger more, since keeping takes longer. */
const WORTH = 60;
const WORTH_SHARE = 1 / 2000;

/** Longer ledgers, about forty thousand events, are not held in memory. */
const LONG_BYTES = 6_000_000;

/** A ledger of which the first events are left out, since a checkpoint knows what they came to. */
export interface Short {
  checkpoint: Checkpoint;
  /** The rest. */
  file: LedgerFile;
  /** Its bytes, without the head. */
  rest: Uint8Array;
  /** Of the entries that are left out, those that are asked for whatever is asked. */
  lately: Entry[];
}

/** Where a replay begins and where it halts for a look. */
export interface Stages {
  /** What the entries that are left out came to; the replay carries it on and changes it. */
  reached?: Reached;
  /** How many entries were replayed before it began. */
  done?: number;
  /** What is kept of stock and waste among them. */
  records?: Records;
  halt?: { at: number; seen: (reached: Reached, movements: Records['movements']) => void };
}

/** The clock, once the head of the ledger is known: times are told in the zone of its shop. */
export type ClockOf = (header: Header) => Promise<number>;

/**
 * The ledger without its first events; undefined where there is no checkpoint that fits, or anything in the rest is odd. Of a long ledger
 * that has none a checkpoint is made, part by part.
 */
export async function shorten(path: string, ledger: Spans, clockOf: ClockOf): Promise<Short | undefined> {
  const kept = checkpointFor(realpathSync(path));
  if (kept?.isOf(ledger)) {
    const short = await restOf(kept, ledger);
    if (short) suitShortWork();
    return short;
  }
  if (ledger.size < LONG_BYTES) return undefined;
  const { goThrough } = await import('./go-through.ts');
  const made = await goThrough(ledger, clockOf);
  return made && restOf(made, ledger);
}

async function restOf(checkpoint: Checkpoint, ledger: Spans): Promise<Short | undefined> {
  const { mark, ids } = checkpoint;
  const rest = ledger.span(mark.bytes, ledger.size);
  const file = await readLedger(Buffer.concat([ledger.span(0, mark.headBytes), rest]), catalogue);
  const isOdd = file.problems.length > 0 || file.events.some(({ event }) => mayHold(ids, event.id));
  return isOdd ? undefined : { checkpoint, file, rest, lately: checkpoint.lately() };
}

/** The entries of the rest behind those asked for of what is left out; undefined where they do not stand behind all of them. */
export function settledWith(
  { checkpoint: { mark }, lately }: Short,
  own: Settled,
  clockMs: number,
): Settled | undefined {
  const isBehind = clockMs >= mark.latestMs && own.entries.every(({ atMs }) => atMs >= mark.latestMs);
  return isBehind && own.problems.length === 0 ? { ...own, entries: [...lately, ...own.entries] } : undefined;
}

/** Where a replay is to halt, and what is to be done with what it has come to there. */
export interface Keeping {
  halt: NonNullable<Stages['halt']>;
  /** To be called when the command has answered. */
  write(): void;
}

/** A ledger that was read, whole or short, and what of it counts. */
export interface ReadLedger {
  path: string;
  file: LedgerFile;
  /** Of the events in `file`, at the clock. */
  own: Settled;
  clockMs: number;
  /** Of the whole ledger, where it was read whole. */
  bytes?: () => Uint8Array;
  short?: Short;
}

/** Whether it is worth to keep how far a replay comes; undefined when it is not. */
export function toKeep(on: ReadLedger): Keeping | undefined {
  const { file, own, short } = on;
  const isOdd = file.problems.length > 0 || own.problems.length > 0;
  if (isOdd || file.events.length < BEHIND + WORTH) return undefined;
  const cut = cutOf(file.events, own, { clockMs: on.clockMs, behind: BEHIND });
  const worth = Math.max(WORTH, WORTH_SHARE * (short?.checkpoint.ids.length ?? 0));
  if (!cut || cut.events < worth) return undefined;
  const before = own.entries.filter(({ place }) => place < cut.events);
  // A replay that halts behind its last entry ends there, and does not go on to the clock.
  if (before.length >= own.entries.length) return undefined;
  let copied: { reached: Uint8Array; movements: Records['movements'] } | undefined;
  const seen: Keeping['halt']['seen'] = (reached, { pours, wastes }) => {
    if (reached.believed.replay.refused.length > 0) return;
    const { serialize } = process.getBuiltinModule('node:v8');
    copied = { reached: serialize(reached), movements: { pours: [...pours], wastes: [...wastes] } };
  };
  return {
    halt: { at: before.length, seen },
    write: () => {
      if (copied)
        keepCheckpoint(realpathSync(on.path), { ...keptOf(on, cut, before, copied.movements), ...copied });
    },
  };
}

/** What is kept of the events before a cut, and of those that were left out. */
function keptOf(on: ReadLedger, cut: Cut, before: readonly Entry[], movements: Records['movements']) {
  const { file, short } = on;
  const records = short?.checkpoint.records();
  const ids = file.events.slice(0, cut.events).map(({ event }) => event.id);
  return {
    ...begunOf(on, file.events[cut.events]!.line, cut),
    ids: idsOf([short?.checkpoint.ids ?? new Float64Array(), hashesOf(ids)]),
    lately: lately([...(short?.lately ?? []), ...before]),
    records: {
      entries: recorded([...(records?.entries ?? []), ...before]),
      movements: joined(records?.movements, movements),
    },
  };
}

/** The movements of the entries that were left out, and of those that were not. */
export function joined(
  first: Records['movements'] | undefined,
  { pours, wastes }: Pick<Movements, 'pours' | 'wastes'>,
): Records['movements'] {
  return first
    ? { pours: [...first.pours, ...pours], wastes: [...first.wastes, ...wastes] }
    : { pours, wastes };
}

/** The bytes before a line of the file that was read. */
function begunOf({ file, bytes, short }: ReadLedger, line: number, { latestMs }: Cut) {
  const headLines = findEvents(file.text)!.line;
  if (!short) {
    const all = bytes!();
    const begun = all.subarray(0, startOf(all, line));
    const headBytes = startOf(all, headLines + 1);
    return { mark: { bytes: begun.length, headBytes, latestMs }, begun: [begun] };
  }
  const { checkpoint, rest } = short;
  const { mark } = checkpoint;
  const more = rest.subarray(0, startOf(rest, line - headLines));
  return {
    mark: { bytes: mark.bytes + more.length, headBytes: mark.headBytes, latestMs },
    begun: inOrder(checkpoint.begun(), more),
  };
}

function* inOrder(first: Iterable<Uint8Array>, second: Uint8Array): Iterable<Uint8Array> {
  yield* first;
  yield second;
}

const LINE_FEED = 10;

/** The byte at which a line begins, lines counted from 1. */
export function startOf(bytes: Uint8Array, line: number): number {
  let at = 0;
  for (let number = 1; number < line; number += 1) at = bytes.indexOf(LINE_FEED, at) + 1;
  return at;
}
