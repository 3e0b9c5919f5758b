/**
 * What a ledger has to offer to a completion: the names of its head and of its latest events. Nothing but its beginning and its end
 * is read, and what is not in the everyday form is passed over: a completion offers less, and never fails.
 */
import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import catalogue from '../../data/catalogue.json' with { type: 'json' };
import { scanEvent } from '../ledger/scan.ts';
import { FlowScanner } from '../ledger/scan-flow.ts';
import { findEvents } from '../ledger/split.ts';

/** An event as far as it could be read. */
export type Seen = Record<string, unknown>;

export interface Names {
  baths(): string[];
  parts(): string[];
  resins(): string[];
  solvents(): string[];
  /** Of the latest events those whose lines hold one of the texts, as many as asked for; the latest first. */
  events(holding: readonly string[], most?: number): Seen[];
}

const HEAD_BYTES = 65_536;
const TAIL_BYTES = 65_536;
const MOST_EVENTS = 200;

/** What the ledger at a path has; without one, the catalogue. */
export function namesAt(path: string | undefined): Names {
  const ends = path === undefined ? undefined : endsOf(path);
  const split = ends && findEvents(ends.head);
  const head = split ? ends.head.slice(0, split.start) : '';
  const tail = split ? (ends.tail ?? ends.head.slice(split.next)) : '';
  const keys = (section: string, shipped: object = {}) => [
    ...new Set([...keysOf(head, section), ...Object.keys(shipped)]),
  ];
  return {
    baths: () => keys('baths'),
    parts: () => keys('parts', catalogue.parts),
    resins: () => keys('resins', catalogue.resins),
    solvents: () => keys('solvents', catalogue.solvents),
    events: (holding, most = MOST_EVENTS) => latest(tail, holding, most),
  };
}

/** The beginning and, where that is not all, the end of a file, from the first whole line on. */
function endsOf(path: string): { head: string; tail?: string } | undefined {
  // A pipe of that name must not be waited for.
  const file = openSync(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    const stat = fstatSync(file);
    if (!stat.isFile()) return undefined;
    if (stat.size <= HEAD_BYTES + TAIL_BYTES) return { head: textOf(file, 0, stat.size) };
    const tail = textOf(file, stat.size - TAIL_BYTES, TAIL_BYTES);
    return { head: textOf(file, 0, HEAD_BYTES), tail: tail.slice(tail.indexOf('\n') + 1) };
  } finally {
    closeSync(file);
  }
}

function textOf(file: number, from: number, length: number): string {
  const bytes = Buffer.alloc(length);
  const read = readSync(file, bytes, 0, length, from);
  return bytes.toString('utf8', 0, read).replace(/^\ufeff/, '');
}

/** The keys of a section of the head, whatever the rest of it holds. */
function keysOf(head: string, section: string): string[] {
  const lines = head.split('\n');
  const first = lines.findIndex((line) => line.startsWith(`${section}:`));
  if (first === -1) return [];
  const inline = new FlowScanner(lines[first]!.trimEnd(), section.length + 1, lines[first]!.trimEnd().length);
  inline.skipSpaces();
  if (lines[first]![inline.at] === '{') return Object.keys(inline.map() ?? {});
  const found: string[] = [];
  let indent: string | undefined;
  for (const line of lines.slice(first + 1)) {
    const [, blank = '', text = ''] = /^( *)(.*)/.exec(line)!;
    if (text === '' || text.startsWith('#') || text === '\r') continue;
    if (blank === '') break;
    indent ??= blank;
    const key = blank === indent && KEY.exec(text);
    if (key) found.push(key[1] ?? key[2]!);
  }
  return found;
}

/** Names have letters, digits, `-`, `_` and `.`; quotes keep those from being read as something else. */
const KEY = /^(?:([^\s"'#,:[\]{}]+)|["']([^\s"'\\]+)["']) *:/;

function latest(text: string, holding: readonly string[], most: number): Seen[] {
  const found: Seen[] = [];
  let end = text.length;
  for (let looked = 0; end > 0 && looked < MOST_EVENTS && found.length < most; looked += 1) {
    const start = text.lastIndexOf('\n', end - 1) + 1;
    const line = text.slice(start, end).trimEnd();
    end = start - 1;
    const event = holding.some((one) => line.includes(one)) ? scanEvent(line, 0, line.length) : null;
    if (event && typeof event.id === 'string' && typeof event.what === 'string') found.push(event);
  }
  return found;
}
