/**
 * Ledgers are long and commands are short: a replay goes on from where an earlier one had come to, and leaves where it came to for the
 * next. None of it shows: what does not fit, or is odd in any way, is read and replayed whole.
 */
import { realpathSync } from 'node:fs';
import { type Reached, stillAsked } from '../checkpoint/checkpoint.ts';
import { cutOf } from '../checkpoint/cut.ts';
import { type Checkpoint, checkpointOf, keepCheckpoint, keptFor } from '../checkpoint/file.ts';
import { mayHold, withIds } from '../checkpoint/ids.ts';
import type { Entry } from '../ledger/event.ts';
import { type LedgerFile, readLedger } from '../ledger/read.ts';
import type { Settled } from '../ledger/settle.ts';
import { findEvents } from '../ledger/split.ts';
import { catalogue } from '../substance/catalogue.ts';

/** Events that stay behind the cut: the last ones are undone, corrected and added to. */
const BEHIND = 30;
/** A cut further on is kept once so many events more stand before it: of a long ledger more, since keeping takes longer. */
const WORTH = 60;
const WORTH_SHARE = 1 / 2000;

/** A ledger of which the first events are left out, since a checkpoint knows what they came to. */
export interface Short {
  file: LedgerFile;
  checkpoint: Checkpoint;
}

/** Where a replay begins and where it halts for a look. */
export interface Stages {
  /** What the entries that are left out came to; the replay carries it on and changes it. */
  reached?: Reached;
  halt?: { at: number; seen: (reached: Omit<Reached, 'entries'>) => void };
}

/** What was kept of a ledger, before anything is known of its bytes. */
export function keptOf(path: string): Buffer | undefined {
  try {
    return keptFor(realpathSync(path));
  } catch {
    return undefined;
  }
}

/** The ledger without the events that a checkpoint stands for; undefined where it does not fit, or anything in the rest is odd. */
export async function shorten(kept: Buffer | undefined, bytes: Uint8Array): Promise<Short | undefined> {
  const checkpoint = kept && checkpointOf(kept, bytes);
  if (!checkpoint) return undefined;
  const { mark, ids } = checkpoint;
  const file = await readLedger(
    Buffer.concat([bytes.subarray(0, mark.headBytes), bytes.subarray(mark.bytes)]),
    catalogue,
  );
  const odd = file.problems.length > 0 || file.events.some(({ event }) => mayHold(ids, event.id));
  return odd ? undefined : { file, checkpoint };
}

/** All entries that are asked for, those of the checkpoint first; undefined where the rest does not stand behind it. */
export function settledWith(
  reached: Reached,
  { mark }: Checkpoint,
  settled: Settled,
  clockMs: number,
): Settled | undefined {
  const isBehind = clockMs >= mark.latestMs && settled.entries.every(({ atMs }) => atMs >= mark.latestMs);
  if (!isBehind || settled.problems.length > 0) return undefined;
  return { ...settled, entries: [...reached.entries, ...settled.entries] };
}

/** Where a replay is to halt, and what is to be done with what it has come to there. */
export interface Keeping {
  halt: NonNullable<Stages['halt']>;
  /** To be called when the command has answered. */
  write(): void;
}

/**
 * Whether it is worth to keep how far a replay comes; undefined when it is not.
 *
 * @param on.bytes - of the whole ledger
 * @param on.settled - of the events in `file`
 * @param on.short - where it was shortened
 */
export function toKeep(on: {
  path: string;
  bytes: Uint8Array;
  file: LedgerFile;
  settled: Settled;
  short?: { checkpoint: Checkpoint; entries: readonly Entry[] };
}): Keeping | undefined {
  const { file, settled, short } = on;
  const { events } = file;
  if (events.length < BEHIND + WORTH || file.problems.length > 0 || settled.problems.length > 0)
    return undefined;
  const cut = cutOf(events, settled, BEHIND);
  const worth = Math.max(WORTH, WORTH_SHARE * (short?.checkpoint.ids.length ?? 0));
  if (!cut || cut.events < worth) return undefined;
  const before = settled.entries.filter(({ place }) => place < cut.events);
  let reached: Uint8Array | undefined;
  const seen = ({ believed, ...rest }: Omit<Reached, 'entries'>): void => {
    if (believed.replay.refused.length > 0) return;
    const entries = stillAsked([...(short?.entries ?? []), ...before]);
    reached = process.getBuiltinModule('node:v8').serialize({ ...rest, believed, entries });
  };
  const write = (): void => {
    if (!reached) return;
    const ids = withIds(
      short?.checkpoint.ids ?? new Uint32Array(),
      events.slice(0, cut.events).map(({ event }) => event.id),
    );
    const mark = { ...placesOf(on, events[cut.events]!.line), latestMs: cut.latestMs };
    keepCheckpoint(realpathSync(on.path), on.bytes, { mark, ids, reached });
  };
  return { halt: { at: before.length, seen }, write };
}

/** Bytes of the head, and before a line of the file that was read. */
function placesOf(
  { bytes, file, short }: Parameters<typeof toKeep>[0],
  line: number,
): { bytes: number; headBytes: number } {
  const { mark } = short?.checkpoint ?? {};
  const from = mark?.bytes ?? 0;
  const head = mark?.headBytes ?? startOf(bytes, 0, findEvents(file.text)!.line + 1);
  if (!mark) return { headBytes: head, bytes: startOf(bytes, 0, line) };
  const headLines = findEvents(file.text)!.line;
  return { headBytes: head, bytes: startOf(bytes, from, line - headLines) };
}

const LINE_FEED = 10;

/** The byte at which a line begins, lines counted from 1 at `from`. */
function startOf(bytes: Uint8Array, from: number, line: number): number {
  let at = from;
  for (let number = 1; number < line; number += 1) at = bytes.indexOf(LINE_FEED, at) + 1;
  return at;
}
