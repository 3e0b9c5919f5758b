/** What several ledgers are called, and the envelope of their documents. */
import type { Problem } from '../ledger/problem.ts';
import { printable } from './printable.ts';

/** One ledger of several, read or not. */
export interface OneLedger<T> {
  /** As it was typed. */
  typed: string;
  path: string;
  found?: T;
  problems: readonly Problem[];
}

/** What people call each ledger: the name of its shop where no other has it, else the file as typed. */
export function labelsOf<T>(ledgers: readonly OneLedger<T>[], shopOf: (found: T) => string): string[] {
  const names = ledgers.map(({ found }) => (found === undefined ? '' : shopOf(found)));
  return ledgers.map(({ typed }, place) => {
    const name = names[place]!;
    const isOnly = name !== '' && names.filter((other) => other === name).length === 1;
    return printable(isOnly ? name : typed);
  });
}

/** The data of a document about several ledgers; `data` is what each would have had alone. */
export function manyDocument<T>(
  ledgers: readonly OneLedger<T>[],
  of: (found: T) => { shop: string; asOf: string; data: unknown },
): Record<string, unknown> {
  return {
    ledgers: ledgers.map(({ path, found, problems }) => {
      const own = found === undefined ? null : of(found);
      return {
        ledger: path,
        shop: own?.shop ?? null,
        as_of: own?.asOf ?? null,
        data: own?.data ?? null,
        problems,
      };
    }),
  };
}
