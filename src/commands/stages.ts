/**
 * Ledgers are long and commands are short: a replay goes on from where an earlier one had come to, and leaves where it came to for the
 * next. None of it shows: what does not fit, or is odd in any way, is read and replayed whole.
 */
import { realpathSync } from 'node:fs';
import { lately, type Reached, type Records, recorded } from '../checkpoint/checkpoint.ts';
import { type Cut, cutOf } from '../checkpoint/cut.ts';
import { type Checkpoint, checkpointFor, keepCheckpoint } from '../checkpoint/file.ts';
import { mayHold, withIds } from '../checkpoint/ids.ts';
import type { Spans } from '../ledger/append-span.ts';
import type { Entry } from '../ledger/event.ts';
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

/** The checkpoint for a ledger, before anything is known of its bytes. */
export function checkpointAt(path: string): Checkpoint | undefined {
  try {
    return checkpointFor(realpathSync(path));
  } catch {
    return undefined;
  }
}

/** The ledger without the events that a checkpoint stands for; undefined where it does not fit, or anything in the rest is odd. */
export async function shorten(checkpoint: Checkpoint | undefined, ledger: Spans): Promise<Short | undefined> {
  if (!checkpoint?.isOf(ledger)) return undefined;
  const { mark, ids } = checkpoint;
  const rest = ledger.span(mark.bytes, ledger.size);
  const file = await readLedger(Buffer.concat([ledger.span(0, mark.headBytes), rest]), catalogue);
  const isOdd = file.problems.length > 0 || file.events.some(({ event }) => mayHold(ids, event.id));
  if (isOdd) return undefined;
  suitShortWork();
  return { checkpoint, file, rest, lately: checkpoint.lately() };
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
  /** Of the events in `file`. */
  own: Settled;
  /** Of the whole ledger, where it was read whole. */
  bytes?: Uint8Array;
  short?: Short;
}

/** Whether it is worth to keep how far a replay comes; undefined when it is not. */
export function toKeep(on: ReadLedger): Keeping | undefined {
  const { file, own, short } = on;
  const isOdd = file.problems.length > 0 || own.problems.length > 0;
  if (isOdd || file.events.length < BEHIND + WORTH) return undefined;
  const cut = cutOf(file.events, own, BEHIND);
  const worth = Math.max(WORTH, WORTH_SHARE * (short?.checkpoint.ids.length ?? 0));
  if (!cut || cut.events < worth) return undefined;
  const before = own.entries.filter(({ place }) => place < cut.events);
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
    ids: withIds(short?.checkpoint.ids ?? new Uint32Array(), ids),
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
  if (short) {
    const { checkpoint, rest } = short;
    const more = rest.subarray(0, startOf(rest, line - headLines));
    const { headBytes } = checkpoint.mark;
    return { mark: { headBytes, latestMs }, begun: Buffer.concat([checkpoint.begun(), more]) };
  }
  const headBytes = startOf(bytes!, headLines + 1);
  return { mark: { headBytes, latestMs }, begun: bytes!.subarray(0, startOf(bytes!, line)) };
}

const LINE_FEED = 10;

/** The byte at which a line begins, lines counted from 1. */
function startOf(bytes: Uint8Array, line: number): number {
  let at = 0;
  for (let number = 1; number < line; number += 1) at = bytes.indexOf(LINE_FEED, at) + 1;
  return at;
}
