/**
 * What the program says, to stdout and stderr. A pipe or a file is written to directly: Node's own streams, which take as long to load
 * as a small ledger to read, are left for terminals.
 */
import { fstatSync, writeSync } from 'node:fs';
import { inAscii, wantsAscii } from '../render/ascii.ts';
import { isFullOrEmptyPipe, waitForPipe } from './pipe.ts';

const STDOUT = 1;
const STDERR = 2;
const EXIT_IO = 74;

/** What to tell where the answer of a command that has written cannot be told. */
let done: string | undefined;

/** Says the answer. */
export function say(text: string): void {
  write(STDOUT, text);
}

/** What was asked for is done, whatever becomes of the answer: said, with where to look, where the answer cannot be. */
export function isDone(what: string): void {
  done = what;
}

/** Says everything else. Where that cannot be said, the command goes on all the same. */
export function remark(text: string): void {
  write(STDERR, text);
}

/** Whether stdout is a terminal, and how wide; no columns where it is not, or does not tell. */
export function terminal(): { isTTY: boolean; columns?: number } {
  if (!isDevice(STDOUT) || process.stdout.isTTY !== true) return { isTTY: false };
  const { columns } = process.stdout;
  return { isTTY: true, ...(columns ? { columns } : {}) };
}

/** Whether stderr is a terminal. */
export function remarksOnTerminal(): boolean {
  return isDevice(STDERR) && process.stderr.isTTY === true;
}

/** Columns to write in: those of the terminal, else COLUMNS, else 80; within bounds. */
export function columns(least: number, most: number): number {
  return Math.min(most, Math.max(least, (terminal().columns ?? Number(process.env.COLUMNS)) || 80));
}

/** The same of the terminal that remarks go to, also where the answer goes elsewhere. */
export function remarkColumns(least: number, most: number): number {
  const own = remarksOnTerminal() ? process.stderr.columns : undefined;
  return own ? Math.min(most, Math.max(least, own)) : columns(least, most);
}

/** A terminal, or something like /dev/null. */
function isDevice(file: number): boolean {
  try {
    return fstatSync(file).isCharacterDevice();
  } catch {
    return false;
  }
}

function write(file: number, text: string): void {
  if (isDevice(file)) {
    streamOf(file).write(wantsAscii(process.env) ? inAscii(text) : text);
    return;
  }
  const bytes = Buffer.from(text, 'utf8');
  for (let from = 0; from < bytes.length; ) {
    try {
      from += writeSync(file, bytes, from);
    } catch (error) {
      if (isFullOrEmptyPipe(error)) waitForPipe();
      else if (file === STDERR) return;
      else leave(error as NodeJS.ErrnoException);
    }
  }
}

const watched = new Set<number>();

function streamOf(file: number): NodeJS.WriteStream {
  const stream = file === STDOUT ? process.stdout : process.stderr;
  if (!watched.has(file)) {
    watched.add(file);
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (file === STDOUT) leave(error);
    });
  }
  return stream;
}

/** A reader that went away, like `| head`, is no fault of ours; a full disk is told, with the exit code for it. */
function leave(error: NodeJS.ErrnoException): never {
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
  const help = done ?? 'Make room, or send it elsewhere';
  remark(`Cannot write the answer: ${error.message}\n  help: ${help}\n`);
  process.exit(EXIT_IO);
}
