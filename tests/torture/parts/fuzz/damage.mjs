// What happens to a text on its way: one change after another, of its lines, its words or its bytes.
import { oneOf, wholeBelow } from '../random.mjs';
import { edgeDate, edgeNumber, HOSTILE, PIECES } from './words.mjs';

const linesOf = (text) => text.split(/(?<=\n)/);

function replaceOne(random, text, pattern, make) {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  const { index, 0: old } = oneOf(random, found);
  return text.slice(0, index) + make(old, found) + text.slice(index + old.length);
}

const insert = (random, text, piece) => {
  const at = wholeBelow(random, text.length + 1);
  return text.slice(0, at) + piece + text.slice(at);
};

/** Changes of the text. */
const OF_TEXT = {
  'swap lines': (random, text) => {
    const lines = linesOf(text);
    const [a, b] = [wholeBelow(random, lines.length), wholeBelow(random, lines.length)];
    [lines[a], lines[b]] = [lines[b], lines[a]];
    return lines.join('');
  },
  'double a line': (random, text) => {
    const lines = linesOf(text);
    const at = wholeBelow(random, lines.length);
    return lines.toSpliced(at, 0, lines[at]).join('');
  },
  'lose a line': (random, text) => {
    const lines = linesOf(text);
    return lines.toSpliced(wholeBelow(random, lines.length), 1).join('');
  },
  'join two': (random, text, other) =>
    text.slice(0, wholeBelow(random, text.length)) + other.slice(wholeBelow(random, other.length)),
  'edge number': (random, text) => replaceOne(random, text, /\d+(?:\.\d+)?/g, () => edgeNumber(random)),
  'edge date': (random, text) =>
    replaceOne(random, text, /\d{4}-\d\d-\d\dT[\d:+Z-]+/g, () => edgeDate(random)),
  'hostile word': (random, text) =>
    replaceOne(random, text, /"(?:[^"\\\n]|\\.)*"/g, () => JSON.stringify(oneOf(random, HOSTILE))),
  'bare hostile word': (random, text) =>
    replaceOne(random, text, /[A-Za-z_][\w-]*/g, () => oneOf(random, HOSTILE)),
  'another word': (random, text) =>
    replaceOne(random, text, /[\w.-]+/g, (_, found) => oneOf(random, found)[0]),
  'a piece': (random, text) => insert(random, text, oneOf(random, PIECES)),
  deep: (random, text) => {
    const depth = 2 ** (1 + wholeBelow(random, 11));
    const [open, close] = oneOf(random, [
      ['[', ']'],
      ['{a: ', '}'],
      ['[', ''],
      ['- ', ''],
      ['? ', ''],
    ]);
    return insert(random, text, open.repeat(depth) + close.repeat(depth));
  },
  'a key twice': (random, text) => replaceOne(random, text, /, \w+: [\w.]+/g, (old) => old + old),
  'a long word': (random, text) => insert(random, text, 'long '.repeat(1 + wholeBelow(random, 2000))),
  'cut off': (random, text) => text.slice(0, wholeBelow(random, text.length + 1)),
  'lose some': (random, text) => {
    const at = wholeBelow(random, text.length);
    return text.slice(0, at) + text.slice(at + 1 + wholeBelow(random, 20));
  },
  'some twice': (random, text) => {
    const at = wholeBelow(random, text.length);
    return insert(random, text, text.slice(at, at + 1 + wholeBelow(random, 60)));
  },
  'Windows line ends': (_, text) => text.replaceAll('\n', '\r\n'),
};

/** Changes of the bytes. */
const OF_BYTES = {
  'one byte': (random, bytes) => {
    const changed = Buffer.from(bytes);
    if (bytes.length > 0) changed[wholeBelow(random, bytes.length)] = wholeBelow(random, 256);
    return changed;
  },
  'cut within a character': (random, bytes) => bytes.subarray(0, wholeBelow(random, bytes.length + 1)),
  'byte order mark': (_, bytes) => Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), bytes]),
  'UTF-16': (random, bytes) => {
    const wide = Buffer.from(`\ufeff${bytes.toString()}`, 'utf16le');
    return random() < 0.5 ? wide : wide.subarray(0, wide.length - (wide.length % 2)).swap16();
  },
  'Latin 1': (_, bytes) => Buffer.from(`${bytes.toString()}é`, 'latin1'),
  'a run of zeros': (random, bytes) => {
    const at = wholeBelow(random, bytes.length + 1);
    return Buffer.concat([
      bytes.subarray(0, at),
      Buffer.alloc(1 + wholeBelow(random, 8)),
      bytes.subarray(at),
    ]);
  },
};

const OF_ANY_BYTES = [
  OF_BYTES['one byte'],
  OF_BYTES['one byte'],
  OF_BYTES['one byte'],
  OF_BYTES['cut within a character'],
  OF_BYTES['a run of zeros'],
];
const TEXT_CHANGES = Object.values(OF_TEXT);
const BYTE_CHANGES = Object.values(OF_BYTES);

/** Bytes that are no text, after a few changes. */
export function damagedBytes(random, bytes) {
  let now = Buffer.from(bytes);
  for (let left = 1 + wholeBelow(random, 4); left > 0; left -= 1)
    now = oneOf(random, OF_ANY_BYTES)(random, now);
  return now;
}

/** The text as bytes after a few changes, or none; `other` gives another text of its kind. */
export function damaged(random, text, other) {
  const changes = random() < 0.3 ? 0 : 1 + wholeBelow(random, 3);
  let now = text;
  for (let nth = 0; nth < changes; nth += 1) now = oneOf(random, TEXT_CHANGES)(random, now, other());
  const bytes = Buffer.from(now);
  return random() < 0.05 ? oneOf(random, BYTE_CHANGES)(random, bytes) : bytes;
}
