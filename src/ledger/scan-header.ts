import { isPlainWord } from './plain-word.ts';
import { FlowScanner } from './scan-flow.ts';

interface Level {
  indent: number;
  map: Record<string, unknown>;
}

/** `key:` with the rest of the line; the key as the flow scanner takes it. */
const LINE = /^( *)([A-Za-z][A-Za-z0-9_-]*):(?: (.*))?$/;

/** Several plain words, as in a shop's name: letters, digits and marks that mean nothing to YAML. */
const WORDS = /^([A-Za-z][A-Za-z0-9_./-]*(?: [A-Za-z0-9][A-Za-z0-9_./-]*)+) *(?: #.*)?$/;

/**
 * The head of a ledger in its usual form: maps by indentation, each value on its key's line, comments anywhere.
 * Null for anything else, which goes to the `yaml` package.
 */
export function scanHeader(text: string): Record<string, unknown> | null {
  const root: Record<string, unknown> = {};
  const levels: Level[] = [{ indent: 0, map: root }];
  let opened: Level | null = null;
  for (const line of text.split(/\r?\n/)) {
    if (/^ *(#[^\p{Cc}\u2028\u2029\ufeff]*)?$/u.test(line)) {
      continue;
    }
    const m = LINE.exec(line);
    if (m === null) {
      return null;
    }
    const indent = m[1]!.length;
    if (opened !== null) {
      if (indent <= opened.indent) {
        return null; // A key without a value is null to YAML, and the schema must say so.
      }
      levels.push({ indent, map: opened.map });
      opened = null;
    }
    const map = mapAt(levels, indent);
    const key = m[2]!;
    if (map === null || map[key] !== undefined || !isPlainWord(key)) {
      return null;
    }
    const value = inlineValue(m[3] ?? '');
    if (value === undefined) {
      return null;
    }
    map[key] = value ?? {};
    if (value === null) {
      opened = { indent, map: map[key] as Record<string, unknown> };
    }
  }
  return opened === null && Object.keys(root).length > 0 ? root : null;
}

/** The map that a line of this indentation belongs to. */
function mapAt(levels: Level[], indent: number): Record<string, unknown> | null {
  while (levels.length > 1 && levels[levels.length - 1]!.indent > indent) {
    levels.pop();
  }
  const level = levels[levels.length - 1]!;
  return level.indent === indent ? level.map : null;
}

/** The value on a key's line; null when a deeper map follows; undefined when the line is not ours to read. */
function inlineValue(rest: string): unknown {
  const scanner = new FlowScanner(rest, 0, rest.length);
  scanner.skipSpaces();
  if (scanner.at === rest.length) {
    return null;
  }
  if (/^ *#[\x20-\x7e]*$/.test(rest)) {
    return null;
  }
  const from = scanner.at;
  const value = scanner.value();
  if (value !== undefined && scanner.atRest()) {
    return value;
  }
  return WORDS.exec(rest.slice(from))?.[1];
}
