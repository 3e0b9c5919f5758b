/** A page or an export written over its own ledger would be the end of that. */
import { type Stats, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { diskProblem } from '../ledger/append-problem.ts';
import { EXIT, Fault, usage } from './fault.ts';

/** @throws Fault, usage, when a file to be written is one of the ledgers, by any name */
export function refuseLedger(out: string | undefined, ledgers: readonly string[]): void {
  const clash = out === undefined ? undefined : ledgers.find((one) => isSameFile(one, out));
  if (clash !== undefined)
    throw usage(`Cannot write over ${clash}, that is a ledger`, 'name another file after --out');
}

function isSameFile(one: string, other: string): boolean {
  if (resolve(one) === resolve(other)) return true;
  const [a, b] = [one, other].map(statsOf);
  return a !== undefined && b !== undefined && a.dev === b.dev && a.ino === b.ino;
}

/** @throws Fault when the system does not say: better no page than one in the place of a ledger */
function statsOf(path: string): Stats | undefined {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch (error) {
    throw new Fault([diskProblem('read', path, error)], EXIT.io);
  }
}
