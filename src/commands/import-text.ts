/** The text of a file that is to be imported. */
import { readFileSync, statSync } from 'node:fs';
import type { Problem } from '../ledger/problem.ts';
import { EXIT, Fault } from './fault.ts';
import { readStdin } from './stdin.ts';

/** More than a hundred years of a busy shop. */
const MOST_BYTES = 256 * 1024 * 1024;
const STDIN = '-';

/** @throws Fault when there is no such file, or it is no text in UTF-8 */
export function importText(path: string): string {
  const bytes = bytesOf(path);
  if (bytes.length > MOST_BYTES)
    throw fault(path, 'it is larger than 256 MB', 'import it in parts', EXIT.data);
  const isWide = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const zero = bytes.indexOf(0);
  if (isWide || zero >= 0)
    throw fault(
      path,
      isWide ? 'it is UTF-16' : 'it holds NUL bytes',
      SAVE_AS,
      EXIT.data,
      lineAt(bytes, zero),
    );
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw fault(path, 'it is not UTF-8', SAVE_AS, EXIT.data, lineAt(bytes, firstBad(bytes)));
  }
}

const SAVE_AS = 'save it as "CSV UTF-8", or as text in UTF-8';

function bytesOf(path: string): Buffer {
  try {
    if (path === STDIN) return readStdin(MOST_BYTES);
    if (statSync(path).isCharacterDevice()) throw Object.assign(new Error('a device'), { code: 'EISDIR' });
    return readFileSync(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    switch (code) {
      case 'ENOENT':
      case 'ENOTDIR':
        throw fault(path, 'there is no such file', 'check the path; - reads standard input', EXIT.noFile);
      case 'EISDIR':
        throw fault(path, 'it is no file', 'name a csv or ndjson file', EXIT.noFile);
      default:
        throw fault(path, code ?? (error as Error).message, 'check that you may read it', EXIT.io);
    }
  }
}

function fault(path: string, why: string, help: string, exit: number, line?: number): Fault {
  const problem: Problem = {
    code: 'cannot-import',
    message: `Cannot import "${path}": ${why}`,
    help,
    ...(line === undefined ? {} : { line }),
    severity: 'error',
  };
  return new Fault([problem], exit, line === undefined ? undefined : path);
}

/** From 1; undefined for no place. */
function lineAt(bytes: Uint8Array, place: number): number | undefined {
  if (place < 0) return undefined;
  let line = 1;
  for (let at = bytes.indexOf(10); at >= 0 && at < place; at = bytes.indexOf(10, at + 1)) line += 1;
  return line;
}

/** The start of the line that cannot be decoded. */
function firstBad(bytes: Uint8Array): number {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  for (let at = 0; at < bytes.length; ) {
    const next = bytes.indexOf(10, at);
    const end = next < 0 ? bytes.length : next + 1;
    try {
      decoder.decode(bytes.subarray(at, end));
    } catch {
      return end - 1;
    }
    at = end;
  }
  return -1;
}
