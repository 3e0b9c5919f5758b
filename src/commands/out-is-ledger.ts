/** A page or an export written over its own ledger would be the end of that. */
import { type Stats, statSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { diskProblem } from '../ledger/append-problem.ts';
import { EXIT, Fault, usage } from './fault.ts';

/** @throws Fault, usage, when a file to be written is one of the ledgers, by any name, or what is kept beside one */
export function refuseLedger(out: string | undefined, ledgers: readonly string[]): void {
  if (out === undefined) return;
  const clash = ledgers.find((one) => isSameFile(one, out));
  if (clash !== undefined)
    throw usage(`Cannot write over ${clash}, that is a ledger`, 'name another file after --out');
  const beside = ledgers.find((one) => isBeside(one, out));
  if (beside !== undefined)
    throw usage(
      `Cannot write to ${out}, that name is for what is kept beside ${beside}`,
      'name another file after --out',
    );
}

/** Its lock, a copy of a line that was undone, the bytes of a line that was torn. */
const BESIDE = /^\.(?:lock|undone|torn-)/;

function isBeside(ledger: string, out: string): boolean {
  const [folder, name] = [dirname(resolve(out)), basename(out)];
  const own = basename(ledger);
  if (!name.startsWith(own) || !BESIDE.test(name.slice(own.length))) return false;
  return isSameFile(join(folder, own), ledger);
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
