import { closeSync } from 'node:fs';

/** Closes a file that was read, or whose bytes are on the disk already: nothing hangs on what the system says, and it is closed all the same. */
export function closeAnyway(file: number): void {
  try {
    closeSync(file);
  } catch {
    // Some disks tell at closing that an earlier write failed; those that matter were waited for.
  }
}
