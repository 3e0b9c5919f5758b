import type { Problem } from './problem.ts';
import { FILE_PROBLEMS, type ProblemRow } from './problems-file.ts';
import { BENCH_PROBLEMS, CORRECTION_PROBLEMS, DISK_PROBLEMS, STRICT_PROBLEMS } from './problems-other.ts';

/** What can be wrong with a ledger, told once: the page of errors and the exit codes come from here. */
export interface ProblemKind {
  title: string;
  /** What it means and why the program minds. */
  meaning: string;
  /** What to do about it. */
  remedy: string;
  /** The exit code of a command that meets it; 0 for a note. */
  exit: number;
  /** Where it is found: reading the file, settling corrections, replaying, `check --strict`, or the disk. */
  found: 'file' | 'corrections' | 'bench' | 'strict' | 'disk';
}

/** Told as notes, which stop no command. */
const NOTES = new Set(['torn-tail', 'reclaimed-in-clean', 'weighed-voided']);

/** Every code a `Problem` of the ledger can have. */
export const PROBLEMS: Readonly<Record<string, ProblemKind>> = Object.fromEntries([
  ...rows(FILE_PROBLEMS, 'file'),
  ...rows(CORRECTION_PROBLEMS, 'corrections'),
  ...rows(BENCH_PROBLEMS, 'bench'),
  ...rows(STRICT_PROBLEMS, 'strict'),
  ...Object.entries(DISK_PROBLEMS).map(([code, [exit, ...row]]) => [code, kind(row, exit, 'disk')] as const),
]);

function rows(table: Record<string, ProblemRow>, found: ProblemKind['found']): [string, ProblemKind][] {
  return Object.entries(table).map(([code, row]) => [code, kind(row, NOTES.has(code) ? 0 : 65, found)]);
}

function kind([title, meaning, remedy]: ProblemRow, exit: number, found: ProblemKind['found']): ProblemKind {
  return { title, meaning, remedy, exit, found };
}

/** The exit code of a command that stops for these problems: that of the first error. */
export function exitCodeOf(problems: readonly Pick<Problem, 'code' | 'severity'>[]): number {
  const first = problems.find((problem) => problem.severity === 'error');
  return first === undefined ? 0 : (PROBLEMS[first.code]?.exit ?? 65);
}
