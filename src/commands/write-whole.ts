/** Writes a file whole or not at all: beside it first, then in its place. */
import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { EXIT, Fault } from './fault.ts';

/** @throws Fault, cannot create, with the reason; what was there before then still is */
export function writeWhole(path: string, text: string): void {
  const temp = `${path}.${process.pid}.part`;
  try {
    writeFileSync(temp, text, { flag: 'wx' });
    renameSync(temp, path);
  } catch (error) {
    rmSync(temp, { force: true });
    const message = `Cannot write "${path}": ${(error as NodeJS.ErrnoException).code ?? (error as Error).message}`;
    const help = 'give a file in a folder that exists and can be written';
    throw new Fault([{ code: 'cannot-create', message, help, severity: 'error' }], EXIT.cannotCreate);
  }
}
