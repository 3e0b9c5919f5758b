import { readdirSync, unlinkSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { isRunning } from './lock-owner.ts';

/** The files beside one whose names begin with its name and this, like what a killed process left behind. */
export function beside(path: string, start: string): string[] {
  const folder = dirname(path);
  const begins = basename(path) + start;
  try {
    return readdirSync(folder)
      .filter((name) => name.startsWith(begins))
      .map((name) => join(folder, name));
  } catch {
    // A folder that may be written to and not be looked into.
    return [];
  }
}

/** Removes a file, unless it is gone already or has to stay: nothing depends on it. */
export function unlinkIfThere(path: string): void {
  try {
    unlinkSync(path);
  } catch {
    // Another process removed it first, or it is another user's.
  }
}

/** Removes the drafts of a new ledger whose writers were killed before they could. */
export function sweepDrafts(path: string): void {
  for (const draft of beside(path, '.new-')) {
    const pid = Number.parseInt(draft.slice(`${path}.new-`.length), 36);
    if (pid > 0 && !isRunning(pid)) {
      unlinkIfThere(draft);
    }
  }
}
