/** Facets of an STL file of text as nearly all programs write them, without looking at each word by itself. */
import { DecimalReader } from './decimal.ts';
import { FARTHEST } from './stl-binary.ts';

export const LONGEST_WORD = 400;
const TAB = 9;
const LINE_FEED = 10;
const RETURN = 13;
const BLANK = 32;
const NONE = -1;

/** A word of four to eight letters: its first four and its last four, as one number each. */
interface Word {
  length: number;
  first: number;
  last: number;
}

/** Reads one facet after the other; whatever is not just as expected is left to the reader of words. */
export class Facets {
  /** Corners of the facet that was read, x y z each. */
  readonly corners = new Float64Array(9);
  private readonly number = new DecimalReader();
  private bytes: Uint8Array = new Uint8Array(0);
  private view = new DataView(this.bytes.buffer);
  private lines = 0;
  private feeds = 0;

  /** The bytes to read from now on. */
  take(bytes: Uint8Array): void {
    this.bytes = bytes;
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  }

  /**
   * @param from - where a facet may begin, or blanks before it
   * @returns the place after it; below nought where there is none, or none that ends within these bytes or is written in this way
   */
  read(from: number): number {
    this.feeds = 0;
    let at = this.word(this.word(from, FACET), NORMAL);
    at = this.anyWord(this.anyWord(this.anyWord(at)));
    at = this.word(this.word(at, OUTER), LOOP);
    for (let nth = 0; nth < 9 && at !== NONE; nth += 3) {
      at = this.word(at, VERTEX);
      at = this.coordinate(at, nth);
      at = this.coordinate(at, nth + 1);
      at = this.coordinate(at, nth + 2);
    }
    at = this.word(this.word(at, ENDLOOP), ENDFACET);
    if (at !== NONE) this.lines += this.feeds;
    return at;
  }

  /** Lines that ended in what was read since this was asked. */
  takeLines(): number {
    const { lines } = this;
    this.lines = 0;
    return lines;
  }

  private pastBlanks(from: number): number {
    const { bytes } = this;
    let at = from;
    for (; at < bytes.length; at += 1) {
      const byte = bytes[at]!;
      if (byte > BLANK || !isBlank(byte)) break;
      if (byte === LINE_FEED) this.feeds += 1;
    }
    return at;
  }

  private word(from: number, { length, first, last }: Word): number {
    if (from === NONE) return NONE;
    const at = this.pastBlanks(from);
    const end = at + length;
    const { bytes, view } = this;
    if (end >= bytes.length || view.getUint32(at) !== first || view.getUint32(end - 4) !== last) return NONE;
    return isBlank(bytes[end]!) ? end : NONE;
  }

  private anyWord(from: number): number {
    if (from === NONE) return NONE;
    const { bytes } = this;
    const first = this.pastBlanks(from);
    let at = first;
    while (at < bytes.length && bytes[at]! > BLANK) at += 1;
    return this.wordEnd(first, at);
  }

  private coordinate(from: number, nth: number): number {
    if (from === NONE) return NONE;
    const { bytes, number } = this;
    const first = this.pastBlanks(from);
    const read = number.read(bytes, first, bytes.length);
    this.corners[nth] = read;
    return Math.abs(read) < FARTHEST ? this.wordEnd(first, number.end) : NONE;
  }

  /** The end of a word, where it is one and not too long. */
  private wordEnd(from: number, to: number): number {
    const { bytes } = this;
    const length = to - from;
    return length > 0 && length <= LONGEST_WORD && to < bytes.length && isBlank(bytes[to]!) ? to : NONE;
  }
}

function word(letters: string): Word {
  const bytes = new TextEncoder().encode(letters);
  const view = new DataView(bytes.buffer);
  return { length: bytes.length, first: view.getUint32(0), last: view.getUint32(bytes.length - 4) };
}

const FACET = word('facet');
const NORMAL = word('normal');
const OUTER = word('outer');
const LOOP = word('loop');
const VERTEX = word('vertex');
const ENDLOOP = word('endloop');
const ENDFACET = word('endfacet');

export function isBlank(byte: number): boolean {
  return byte === BLANK || (byte <= RETURN && byte >= TAB);
}
