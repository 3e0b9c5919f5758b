import type { Aside } from './append-aside.ts';
import type { OpenFile } from './append-file.ts';
import type { Problem } from './problem.ts';
import type { LedgerFile } from './read.ts';

export interface Tail {
  /** How many bytes make whole lines. */
  length: number;
  /** Where what comes after them goes; null when nothing does. */
  aside: Aside | null;
  /** Told when it is done. */
  notes: Problem[];
}

/** What a torn last line leaves of a ledger, and the file beside it that the line is moved to. */
export function tailOf(open: OpenFile, { tail }: LedgerFile): Tail {
  if (tail !== 'torn') {
    return { length: open.size, aside: null, notes: [] };
  }
  const { bytes, path } = open;
  const length = bytes.lastIndexOf(10) + 1;
  const time = new Date().toISOString().replaceAll(/[:.]/g, '');
  const aside = `${path}.torn-${time}-${Math.floor(Math.random() * 36 ** 4).toString(36)}`;
  const note: Problem = {
    code: 'tail-moved',
    message: `Moved an incomplete last line, left by an interrupted write, to "${aside}"`,
    help: 'Log that event again if it is missing',
    severity: 'warning',
  };
  return { length, aside: { path: aside, bytes: bytes.subarray(length) }, notes: [note] };
}
