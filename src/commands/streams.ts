/**
 * What the program says, to stdout and stderr. A pipe or a file is written to directly: Node's own streams, which take as long to load
 * as a small ledger to read, are left for terminals.
 */
import { fstatSync, writeSync } from 'node:fs';

const STDOUT = 1;
const STDERR = 2;
/** A pipe that another program has set not to block is full: looked at again after so many milliseconds. */
const FULL_PIPE_MS = 2;

/** Says the answer. */
export function say(text: string): void {
  write(STDOUT, text);
}

/** Says everything else. */
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
    streamOf(file).write(text);
    return;
  }
  const bytes = Buffer.from(text, 'utf8');
  for (let done = 0; done < bytes.length; ) {
    try {
      done += writeSync(file, bytes, done);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') leave(file, error as NodeJS.ErrnoException);
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, FULL_PIPE_MS);
    }
  }
}

const watched = new Set<number>();

function streamOf(file: number): NodeJS.WriteStream {
  const stream = file === STDOUT ? process.stdout : process.stderr;
  if (!watched.has(file)) {
    watched.add(file);
    stream.on('error', (error: NodeJS.ErrnoException) => leave(file, error));
  }
  return stream;
}

/** A reader that went away, like `| head`, is no fault of ours; a full disk is told, with the exit code for it. */
function leave(file: number, error: NodeJS.ErrnoException): never {
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
  if (file === STDOUT)
    remark(`Cannot write the answer: ${error.message}\n  help: Make room, or send it elsewhere\n`);
  process.exit(74);
}
