import type { Problem } from './problem.ts';
import { scanEvent } from './scan.ts';

/** The bytes of a ledger as text, and what became of its end. */
export interface Decoded {
  text: string;
  tail: 'whole' | 'no-newline' | 'torn';
  /** Line number of the tail, from 1; 0 when the file is whole. */
  tailLine: number;
  /** Why the bytes are no text at all. */
  problem?: Problem;
}

const LF = 10;

/** UTF-8 with or without a byte order mark; a last line that an interrupted append left behind is cut off. */
export async function decodeLedger(bytes: Uint8Array): Promise<Decoded> {
  const tailAt = bytes.lastIndexOf(LF) + 1;
  const torn = tailAt < bytes.length && (await isTorn(bytes.subarray(tailAt)));
  const kept = torn ? bytes.subarray(0, tailAt) : bytes;
  const tail = torn ? 'torn' : tailAt < bytes.length ? 'no-newline' : 'whole';
  const tailLine = torn ? countLines(kept) + 1 : 0;
  const read = toText(kept);
  return typeof read === 'string'
    ? { text: read, tail, tailLine }
    : { text: '', tail, tailLine, problem: read };
}

/** True for a last line without its newline that is the beginning of an event, but no whole event. */
async function isTorn(tail: Uint8Array): Promise<boolean> {
  if (tail.includes(0)) {
    return true;
  }
  // The end of the line may itself be cut.
  const line = new TextDecoder('utf-8').decode(tail).replace(/\r$/, '');
  if (!line.trimStart().startsWith('-') || scanEvent(line, 0, line.length) !== null) {
    return false;
  }
  const { parseYaml } = await import('./parse-yaml.ts');
  const { told, value } = await parseYaml(line, [0]);
  return (
    told.some((one) => one.code === 'bad-yaml') ||
    (told.length === 0 && (typeof value !== 'object' || value === null))
  );
}

function toText(bytes: Uint8Array): string | Problem {
  const zero = bytes.indexOf(0);
  if (zero >= 0) {
    return {
      code: 'not-text',
      message: 'Cannot read the ledger, the file is not text',
      help: 'Name a ledger with --ledger FILE; if this is one, save it as UTF-8 text',
      line: countLines(bytes.subarray(0, zero)) + 1,
      severity: 'error',
    };
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return badCharacter(bytes);
  }
}

function badCharacter(bytes: Uint8Array): Problem {
  for (let at = 0, line = 1; at < bytes.length; line++) {
    const next = bytes.indexOf(LF, at);
    const end = next < 0 ? bytes.length : next;
    const loose = new TextDecoder('utf-8').decode(bytes.subarray(at, end));
    const column = loose.indexOf('\ufffd') + 1;
    if (column > 0 && !isUtf8(bytes.subarray(at, end))) {
      return {
        code: 'bad-utf8',
        message: 'Cannot read a character, the file is not UTF-8 here',
        help: 'Save the file as UTF-8 and type the character again',
        line,
        column,
        length: 1,
        excerpt: loose.replace(/\r$/, ''),
        severity: 'error',
      };
    }
    at = end + 1;
  }
  return {
    code: 'bad-utf8',
    message: 'Cannot read the file, it is not UTF-8',
    help: 'Save the file as UTF-8',
    severity: 'error',
  };
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

/** Number of line breaks. */
function countLines(bytes: Uint8Array): number {
  let count = 0;
  for (let at = bytes.indexOf(LF); at >= 0; at = bytes.indexOf(LF, at + 1)) {
    count++;
  }
  return count;
}
