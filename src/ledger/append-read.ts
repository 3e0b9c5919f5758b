import { readFileSync, statSync } from 'node:fs';
import { diskProblem, refuseDevice } from './append-problem.ts';
import type { Catalogue } from './names.ts';
import type { Problem } from './problem.ts';
import { type LedgerFile, readLedger } from './read.ts';

/** Long enough for another process to finish the line it is writing. */
const SECOND_LOOK_MS = 20;

/** Reads the ledger at a path without a lock. A torn last line may be one that is being written, so it gets a second look. */
export async function readLedgerAt(path: string, catalogue?: Catalogue): Promise<LedgerFile | Problem> {
  try {
    refuseDevice(statSync(path));
    const file = await readLedger(readFileSync(path), catalogue);
    if (file.tail !== 'torn') {
      return file;
    }
    await new Promise((resolve) => setTimeout(resolve, SECOND_LOOK_MS));
    return await readLedger(readFileSync(path), catalogue);
  } catch (error) {
    return diskProblem('read', path, error);
  }
}
