import { keepAside, type OpenFile } from './append-file.ts';
import type { Problem } from './problem.ts';
import type { LedgerFile } from './read.ts';

/** Moves a torn last line to a file beside the ledger. Gives the length of what is kept, and a note of what was done. */
export function repairTail(open: OpenFile, file: LedgerFile): { length: number; notes: Problem[] } {
  const { bytes, path } = open;
  if (file.tail !== 'torn') {
    return { length: bytes.length, notes: [] };
  }
  const length = bytes.lastIndexOf(10) + 1;
  const aside = `${path}.torn-${new Date().toISOString().replaceAll(/[:.]/g, '')}`;
  keepAside(aside, bytes.subarray(length));
  open.cut(length);
  const note: Problem = {
    code: 'tail-moved',
    message: `Moved an incomplete last line, left by an interrupted write, to "${aside}"`,
    help: 'Log that event again if it is missing',
    severity: 'warning',
  };
  return { length, notes: [note] };
}
