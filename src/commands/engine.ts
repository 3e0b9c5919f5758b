/** How the JavaScript engine is set for the work ahead. */
import { statSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';

/** About two thousand events. */
const SMALL_BYTES = 300_000;

/**
 * For a small ledger, tells V8 not to optimise: the command is over before optimised code pays, and compiling it takes
 * as much time as all the rest (baths on 1 000 events: 215 ms of processor time with it, 117 without; tests/bench).
 * A large ledger keeps the engine as it is.
 */
export function suitEngine(ledgers: readonly string[]): void {
  const bytes = ledgers.reduce((sum, path) => sum + sizeOf(path), 0);
  setFlagsFromString(bytes < SMALL_BYTES ? '--no-opt' : '--opt');
}

/** For little work, however large the ledger; to be taken back by {@link suitEngine} where it becomes more. */
export function suitShortWork(): void {
  setFlagsFromString('--no-opt');
}

/** In bytes; 0 when there is no such file, which is for the reader to say. */
function sizeOf(path: string): number {
  try {
    return statSync(path).size;
  } catch {
    return 0;
  }
}
