import { readFileSync, statSync } from 'node:fs';
import { diskProblem, refuseDevice } from './append-problem.ts';
import type { Catalogue } from './names.ts';
import type { Problem } from './problem.ts';
import { type LedgerFile, readLedger } from './read.ts';

/** Long enough for another process to finish the line it is writing. */
const SECOND_LOOK_MS = 20;

/** A ledger, and the bytes it was read from. */
export interface ReadAt {
  bytes: Uint8Array;
  file: LedgerFile;
}

/** Reads the ledger at a path without a lock. A torn last line may be one that is being written, so it gets a second look. */
export async function readLedgerAt(path: string, catalogue?: Catalogue): Promise<ReadAt | Problem> {
  try {
    refuseDevice(statSync(path));
    const first = await readOnce(path, catalogue);
    if (first.file.tail !== 'torn') {
      return first;
    }
    await new Promise((resolve) => setTimeout(resolve, SECOND_LOOK_MS));
    return await readOnce(path, catalogue);
  } catch (error) {
    return diskProblem('read', path, error);
  }
}

async function readOnce(path: string, catalogue?: Catalogue): Promise<ReadAt> {
  const bytes = readFileSync(path);
  return { bytes, file: await readLedger(bytes, catalogue) };
}
