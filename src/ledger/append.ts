import { realpathSync, statSync } from 'node:fs';
import { changeKeeping } from './append-aside.ts';
import { ChangedMeanwhile, OpenFile } from './append-file.ts';
import { killPoint } from './append-kill-point.ts';
import { prepareLines } from './append-lines.ts';
import { diskProblem, refuseDevice, refusePipe } from './append-problem.ts';
import { tailOf } from './append-tail.ts';
import type { LedgerEvent } from './event.ts';
import { takeLock } from './lock.ts';
import type { Catalogue } from './names.ts';
import type { Problem } from './problem.ts';
import { type LedgerFile, readLedger } from './read.ts';
import { findEvents } from './split.ts';

/** What to add to a ledger, worked out while it is locked; or why nothing is to be added. */
export type Decision = { events: LedgerEvent[] } | { refused: Problem[] } | typeof WHOLE;

/** That the ledger was read the short way, and has to be read whole to decide. */
export const WHOLE = 'whole';

const NUMBER_SIGN = 0x23;
const BLANK = 0x20;

export interface AppendOptions {
  /** A shorter way of reading it, where there is one; the file read stands for the whole of it. */
  read?: (ledger: OpenFile) => Promise<LedgerFile | undefined>;
  catalogue?: Catalogue;
  /** Told to others who wait for the lock, like "bathbook wash". */
  command?: string;
  /** Work everything out, take no lock and write nothing. */
  dryRun?: boolean;
  /** How long to wait for the lock. */
  patienceMs?: number;
}

export interface Appended {
  /** The lines as they stand in the file, without line breaks; empty when nothing was written. */
  lines: string[];
  /** Why nothing was written; empty when all went well. */
  problems: Problem[];
  /** What was repaired on the way. */
  notes: Problem[];
}

/**
 * Adds events at the end of a ledger: real path, lock, read, decide, check the lines, look whether it is still as read,
 * move a torn tail aside, write, fsync, unlock. Several events are one write. When anything fails the file is as it was.
 */
export async function append(
  path: string,
  decide: (file: LedgerFile) => Promise<Decision>,
  options: AppendOptions = {},
): Promise<Appended> {
  return withLedger(path, options, async (open, isOurs) => {
    const { file, decision } = await decideOn(open, decide, options);
    if ('refused' in decision) {
      return refused(decision.refused);
    }
    const { lines, problems } = await prepareLines(file, decision.events, options.catalogue);
    if (problems.length > 0 || lines.length === 0 || options.dryRun === true) {
      return { lines: problems.length > 0 ? [] : lines, problems, notes: [] };
    }
    KILL_POINT: killPoint('decided');
    if (!isOurs() || !open.isUnchanged()) {
      return refused([changedMeanwhile(path)]);
    }
    return write(open, file, lines);
  });
}

/** Reads and decides: the short way where there is one and it will do. */
async function decideOn(
  open: OpenFile,
  decide: (file: LedgerFile) => Promise<Decision>,
  { read, catalogue }: AppendOptions,
): Promise<{ file: LedgerFile; decision: Exclude<Decision, typeof WHOLE> }> {
  const short = await read?.(open);
  const first = short && (await decide(short));
  if (short && first && first !== WHOLE) {
    return { file: short, decision: first };
  }
  const file = await readLedger(open.bytes, catalogue);
  const errors = file.problems.filter((problem) => problem.severity === 'error');
  const decision = errors.length > 0 ? { refused: errors } : await decide(file);
  if (decision === WHOLE) {
    throw new Error('There is nothing more to read than the whole ledger');
  }
  return { file, decision };
}

function write(open: OpenFile, file: LedgerFile, lines: string[]): Appended {
  const { length, aside, notes } = tailOf(open, file);
  // A write that was cut inside the end of a line has left the first half of it.
  const lineEnd = file.text.endsWith('\r') ? '\n' : file.newline;
  const before = file.tail === 'no-newline' ? lineEnd : '';
  const text = before + lines.map((line) => line + file.newline).join('');
  changeKeeping(open, aside, () => {
    if (aside !== null) {
      open.cut(length);
      KILL_POINT: killPoint('tail cut');
    }
    if (file.emptyList) {
      openList(open, file);
      KILL_POINT: killPoint('list opened');
    }
    open.add(Buffer.from(text, 'utf8'));
  });
  return { lines, problems: [], notes };
}

/**
 * Puts blanks in the place of `[]` after `events:`, so that lines can follow; nothing else on the line moves. Byte by byte, by way of a
 * remark, so that a ledger has no events wherever the disk stops.
 */
function openList(open: OpenFile, file: LedgerFile): void {
  const { start, end } = findEvents(file.text)!;
  const line = file.text.slice(start, end);
  const list = /\[ *\]/.exec(line)!;
  const mark = open.bytes[0] === 0xef ? 3 : 0;
  const from = mark + Buffer.byteLength(file.text.slice(0, start + list.index), 'utf8');
  open.replace(from, NUMBER_SIGN);
  open.replace(from + list[0].length - 1, BLANK);
  open.replace(from, BLANK);
}

/** Opens the ledger under its lock, runs the action, and turns refusals of the system into problems. */
export async function withLedger<T extends { problems: Problem[] }>(
  path: string,
  options: AppendOptions,
  action: (open: OpenFile, isOurs: () => boolean) => Promise<T>,
): Promise<T | Appended> {
  let real: string;
  try {
    real = realpathSync(path);
    const stats = statSync(real);
    refuseDevice(stats);
    refusePipe(stats);
  } catch (error) {
    return refused([diskProblem('read', path, error)]);
  }
  const dry = options.dryRun === true;
  const lock = dry
    ? { isOurs: () => true, release: () => {} }
    : await takeLock(real, options.command ?? 'bathbook', options.patienceMs);
  if ('code' in lock) {
    return refused([lock]);
  }
  try {
    return await withOpen(real, (open) => action(open, lock.isOurs));
  } catch (error) {
    return refused([problemOf(error, path)]);
  } finally {
    lock.release();
    KILL_POINT: killPoint('unlocked');
  }
}

async function withOpen<T>(path: string, action: (open: OpenFile) => Promise<T>): Promise<T> {
  const open = new OpenFile(path);
  try {
    return await action(open);
  } finally {
    open.close();
  }
}

/** What the system refused. Anything else is a fault of the program and goes on its way. */
function problemOf(error: unknown, path: string): Problem {
  if (error instanceof ChangedMeanwhile) {
    return changedMeanwhile(path);
  }
  const { errno, code, aside } = error as NodeJS.ErrnoException & { aside?: string };
  if (typeof errno !== 'number' && code !== 'ENOSPC') {
    throw error;
  }
  return diskProblem('write', aside ?? path, error);
}

function refused(problems: Problem[]): Appended {
  return { lines: [], problems, notes: [] };
}

/** Somebody saved the file in an editor, or took the lock, while we were thinking. */
export function changedMeanwhile(path: string): Problem {
  return {
    code: 'changed-meanwhile',
    message: `Cannot write to "${path}", the file was changed by another program just now`,
    help: 'Try again',
    severity: 'error',
  };
}
