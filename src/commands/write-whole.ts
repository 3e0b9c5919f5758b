/** Writes a file whole or not at all: beside it first, then in its place. */
import { chmodSync, readlinkSync, realpathSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { EXIT, Fault } from './fault.ts';

const PERMISSIONS = 0o777;

/**
 * A link stays, and the file that it leads to is written. What is no file, like /dev/null or a pipe, is written into as it is: it must
 * never be replaced.
 *
 * @throws Fault, cannot create, with the reason; what was there before then still is
 */
export function writeWhole(path: string, text: string): void {
  try {
    const there = statSync(path, { throwIfNoEntry: false });
    if (there === undefined) put(linkedFrom(path), text);
    else if (there.isFile()) put(realpathSync(path), text, there.mode & PERMISSIONS);
    else writeFileSync(path, text);
  } catch (error) {
    const message = `Cannot write "${path}": ${(error as NodeJS.ErrnoException).code ?? (error as Error).message}`;
    const help = 'give a file in a folder that exists and can be written';
    throw new Fault([{ code: 'cannot-create', message, help, severity: 'error' }], EXIT.cannotCreate);
  }
}

/** Where a link leads to nothing, the file that it names; a link to a link is left to the system. */
function linkedFrom(path: string): string {
  try {
    return resolve(dirname(path), readlinkSync(path));
  } catch {
    return path;
  }
}

function put(path: string, text: string, mode?: number): void {
  const temp = `${path}.${process.pid}.part`;
  try {
    writeFileSync(temp, text, { flag: 'wx' });
    if (mode !== undefined) chmodSync(temp, mode);
    renameSync(temp, path);
  } catch (error) {
    rmSync(temp, { force: true });
    throw error;
  }
}
