import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from '../cache-folder.ts';

/**
 * Keeps a value as JSON in the user's state folder, whole or not at all.
 *
 * @throws Error of the system
 */
export function keepState(path: string, value: object): void {
  makeFolder(dirname(path));
  const draft = `${path}.${process.pid}`;
  // Of a process with this number that was killed; "wx" follows no link that lies there.
  rmSync(draft, { force: true });
  try {
    writeFileSync(draft, `${JSON.stringify(value, null, 1)}\n`, { mode: 0o600, flag: 'wx' });
    renameSync(draft, path);
  } catch (error) {
    rmSync(draft, { force: true });
    throw error;
  }
}
