import { MOST_PROBLEMS } from './collector.ts';
import { withExcerpt } from './excerpt.ts';
import type { Catalogue } from './names.ts';
import type { Problem } from './problem.ts';
import { type LedgerFile, readLedger } from './read.ts';
import { type Settled, settle } from './settle.ts';
import { strictProblems } from './strict.ts';

interface Options {
  clockMs: number;
  catalogue?: Catalogue;
  /** Hold the ledger to the stricter rules as well. */
  strict?: boolean;
}

interface Checked {
  file: LedgerFile;
  settled: Settled;
  /** Of the file, its corrections and, where asked for, the stricter rules; at most 20, in the order of the file. */
  problems: Problem[];
  moreProblems: number;
}

/** Reads and settles a ledger and gathers all that is wrong with it. */
export async function checkLedger(bytes: Uint8Array, options: Options): Promise<Checked> {
  const file = await readLedger(bytes, options.catalogue);
  return gather(file, options);
}

/** As `checkLedger`, for a file that was read already. */
export async function gather(file: LedgerFile, { clockMs, catalogue, strict }: Options): Promise<Checked> {
  const settled = await settle(file.events, clockMs, file.header, catalogue);
  const stricter =
    strict === true && file.header !== null ? strictProblems(file.header, file.events, settled, clockMs) : [];
  const own = [...settled.problems, ...stricter].map((problem) => withExcerpt(file.text, problem));
  const all = [...file.problems, ...own].sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
  const more = file.moreProblems + Math.max(0, all.length - MOST_PROBLEMS);
  return { file, settled, problems: all.slice(0, MOST_PROBLEMS), moreProblems: more };
}
