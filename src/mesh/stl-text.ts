/** Triangles of an STL file of text: words and numbers between blanks, in any case, on any lines. */
import { decimal } from './decimal.ts';
import { EXPORT_AGAIN, Unreadable } from './fault.ts';
import { FARTHEST } from './stl-binary.ts';
import { Facets, isBlank, LONGEST_WORD } from './stl-text-facets.ts';
import type { Triangles } from './triangles.ts';

/** What may come next. A facet's normal is three words that nothing is made of. */
type Awaits =
  | 'solid'
  | 'facet'
  | 'normal'
  | 'n1'
  | 'n2'
  | 'n3'
  | 'outer'
  | 'loop'
  | 'vertex'
  | 'x'
  | 'y'
  | 'z'
  | 'endfacet';

const AFTER_NORMAL: Partial<Record<Awaits, Awaits>> = { n1: 'n2', n2: 'n3', n3: 'outer' };
const [LINE_FEED, RETURN] = [10, 13];

/**
 * @returns whether the last solid was brought to its end; a file that is cut off between two triangles is not
 * @throws Unreadable, with the line
 */
export function readText(chunks: Iterable<Uint8Array>, to: Triangles): boolean {
  const reader = new Reader(to);
  let left: Uint8Array = new Uint8Array(0);
  for (const chunk of chunks) {
    const bytes = left.length === 0 ? chunk : joined(left, chunk);
    left = bytes.slice(reader.read(bytes));
  }
  reader.read(joined(left, Uint8Array.of(LINE_FEED)));
  return reader.end();
}

function joined(first: Uint8Array, second: Uint8Array): Uint8Array {
  const both = new Uint8Array(first.length + second.length);
  both.set(first);
  both.set(second, first.length);
  return both;
}

class Reader {
  private awaits: Awaits = 'solid';
  private line = 1;
  /** In the name of a solid, which goes to the end of the line. */
  private inName = false;
  private readonly numbers = new Float64Array(9);
  private count = 0;
  private readonly facets = new Facets();
  private readonly to: Triangles;

  constructor(to: Triangles) {
    this.to = to;
  }

  /** Takes all words that surely end here; gives the place of the first byte that is not taken. */
  read(bytes: Uint8Array): number {
    let at = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
    for (;;) {
      if (this.inName) at = this.pastName(bytes, at);
      if (this.awaits === 'facet' && !this.inName) at = this.pastFacets(bytes, at);
      at = this.pastBlanks(bytes, at);
      if (at >= bytes.length) return bytes.length;
      let end = at;
      while (end < bytes.length && !isBlank(bytes[end]!)) end += 1;
      if (end - at > LONGEST_WORD) throw this.wrong(bytes, at, at + 20);
      if (end === bytes.length) return at;
      this.take(bytes, at, end);
      at = end;
    }
  }

  private pastFacets(bytes: Uint8Array, from: number): number {
    const { facets, to } = this;
    facets.take(bytes);
    let at = from;
    for (let end = facets.read(at); end >= 0; end = facets.read(at)) {
      addCorners(to, facets.corners);
      at = end;
    }
    this.line += facets.takeLines();
    return at;
  }

  private pastName(bytes: Uint8Array, from: number): number {
    let at = from;
    while (at < bytes.length && bytes[at] !== LINE_FEED && bytes[at] !== RETURN) at += 1;
    this.inName = at === bytes.length;
    return at;
  }

  private pastBlanks(bytes: Uint8Array, from: number): number {
    let at = from;
    for (; at < bytes.length && isBlank(bytes[at]!); at += 1) if (bytes[at] === LINE_FEED) this.line += 1;
    return at;
  }

  private take(bytes: Uint8Array, from: number, to: number): void {
    switch (this.awaits) {
      case 'n1':
      case 'n2':
      case 'n3':
        this.awaits = AFTER_NORMAL[this.awaits]!;
        return;
      case 'x':
      case 'y':
      case 'z':
        this.takeNumber(bytes, from, to);
        return;
      default:
        this.takeWord(bytes, from, to);
    }
  }

  private takeNumber(bytes: Uint8Array, from: number, to: number): void {
    const number = decimal(bytes, from, to);
    if (!(Math.abs(number) < FARTHEST)) throw this.wrong(bytes, from, to);
    if (this.count < 9) this.numbers[this.count] = number;
    this.count += 1;
    this.awaits = this.awaits === 'x' ? 'y' : this.awaits === 'y' ? 'z' : 'vertex';
  }

  private takeWord(bytes: Uint8Array, from: number, to: number): void {
    const is = (word: string) => isWord(bytes, from, to, word);
    if (this.awaits === 'vertex' && is('vertex')) this.awaits = 'x';
    else if (this.awaits === 'vertex' && is('endloop')) this.endLoop();
    else if (this.awaits === 'facet' && is('endsolid')) this.name('solid');
    else if (this.awaits === 'solid' && is('solid')) this.name('facet');
    else if (this.awaits !== 'vertex' && this.awaits !== 'solid' && is(this.awaits))
      this.awaits = AFTER[this.awaits]!;
    else throw this.wrong(bytes, from, to);
  }

  private name(next: Awaits): void {
    this.inName = true;
    this.awaits = next;
  }

  private endLoop(): void {
    if (this.count !== 9) {
      throw new Unreadable(`a triangle has ${this.count / 3} corners`, EXPORT_AGAIN, this.line);
    }
    addCorners(this.to, this.numbers);
    this.count = 0;
    this.awaits = 'endfacet';
  }

  private wrong(bytes: Uint8Array, from: number, to: number): Unreadable {
    const found = new TextDecoder('latin1').decode(bytes.subarray(from, Math.min(to, from + 40)));
    const comma = /^[-+]?\d+,\d+$/.test(found) ? '; numbers are written with a point' : '';
    return new Unreadable(
      `"${found}" stands where ${WANTED[this.awaits]} should${comma}`,
      EXPORT_AGAIN,
      this.line,
    );
  }

  end(): boolean {
    if (this.awaits === 'solid') return true;
    if (this.awaits === 'facet') return false;
    throw new Unreadable(
      'it is cut off in the middle of a triangle',
      `copy it again, or ${EXPORT_AGAIN}`,
      this.line,
    );
  }
}

function addCorners(to: Triangles, at: Float64Array): void {
  to.add(at[0]!, at[1]!, at[2]!, at[3]!, at[4]!, at[5]!, at[6]!, at[7]!, at[8]!);
}

const AFTER: Partial<Record<Awaits, Awaits>> = {
  facet: 'normal',
  normal: 'n1',
  outer: 'loop',
  loop: 'vertex',
  endfacet: 'facet',
};

const WANTED: Record<Awaits, string> = {
  solid: '"solid"',
  facet: '"facet" or "endsolid"',
  normal: '"normal"',
  n1: 'a number',
  n2: 'a number',
  n3: 'a number',
  outer: '"outer"',
  loop: '"loop"',
  vertex: '"vertex" or "endloop"',
  x: 'a coordinate',
  y: 'a coordinate',
  z: 'a coordinate',
  endfacet: '"endfacet"',
};

/** In any case. */
function isWord(bytes: Uint8Array, from: number, to: number, word: string): boolean {
  if (to - from !== word.length) return false;
  for (let nth = 0; nth < word.length; nth += 1)
    if ((bytes[from + nth]! | 32) !== word.charCodeAt(nth)) return false;
  return true;
}
