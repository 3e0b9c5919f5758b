/** Corners and triangles of a 3MF model as nearly all programs write them, read out of the bytes without an XML parser. */
import { DecimalReader } from './decimal.ts';
import type { Numbers } from './numbers.ts';
import { FARTHEST } from './stl-binary.ts';

const TAB = 9;
const LINE_FEED = 10;
const RETURN = 13;
const BLANK = 32;
const ZERO = 48;
const NONE = -1;
/** Places below a thousand million; what is more is left to the parser. */
const MOST_DIGITS = 9;

/** Reads runs of elements; the first that is written otherwise, or cut off, is left to the parser. */
export class Runs {
  private readonly number = new DecimalReader();
  private readonly three = new Float64Array(3);

  /** @returns the place after the last `<vertex x="…" y="…" z="…"/>` of those that begin here, whose numbers are added */
  vertices(bytes: Uint8Array, from: number, corners: Numbers<Float64Array>): number {
    let taken = from;
    for (let at = this.vertex(bytes, taken); at !== NONE; at = this.vertex(bytes, taken)) {
      add(this.three, corners);
      taken = at;
    }
    return taken;
  }

  /** @returns the place after the last `<triangle v1="…" v2="…" v3="…"/>`; what it says of colours is passed over */
  triangles(bytes: Uint8Array, from: number, triangles: Numbers<Uint32Array>): number {
    let taken = from;
    for (let at = this.triangle(bytes, taken); at !== NONE; at = this.triangle(bytes, taken)) {
      add(this.three, triangles);
      taken = at;
    }
    return taken;
  }

  private vertex(bytes: Uint8Array, from: number): number {
    let at = this.coordinate(bytes, past(bytes, from, VERTEX), 0);
    at = this.coordinate(bytes, past(bytes, at, NEXT_Y), 1);
    at = this.coordinate(bytes, past(bytes, at, NEXT_Z), 2);
    return past(bytes, at, END);
  }

  private triangle(bytes: Uint8Array, from: number): number {
    let at = this.place(bytes, past(bytes, from, TRIANGLE), 0);
    at = this.place(bytes, past(bytes, at, NEXT_V2), 1);
    at = this.place(bytes, past(bytes, at, NEXT_V3), 2);
    return pastColours(bytes, at);
  }

  private coordinate(bytes: Uint8Array, from: number, nth: number): number {
    if (from === NONE) return NONE;
    const read = this.number.read(bytes, from, bytes.length);
    this.three[nth] = read;
    return Math.abs(read) < FARTHEST ? this.number.end : NONE;
  }

  private place(bytes: Uint8Array, from: number, nth: number): number {
    if (from === NONE) return NONE;
    const end = pastDigits(bytes, from);
    if (end === NONE || end - from > MOST_DIGITS) return NONE;
    let whole = 0;
    for (let at = from; at < end; at += 1) whole = (Math.imul(whole, 10) + (bytes[at]! ^ ZERO)) | 0;
    this.three[nth] = whole;
    return end;
  }
}

/** Past `" pid="1" p1="2" p2="2" p3="2"/>`. */
function pastColours(bytes: Uint8Array, from: number): number {
  let at = from;
  while (at !== NONE) {
    const end = past(bytes, at, END);
    if (end !== NONE) return end;
    let next = NONE;
    for (let nth = 0; nth < COLOURS.length && next === NONE; nth += 1) next = past(bytes, at, COLOURS[nth]!);
    at = pastDigits(bytes, next);
  }
  return NONE;
}

function add(three: Float64Array, numbers: Numbers<Float64Array> | Numbers<Uint32Array>): void {
  numbers.push(three[0]!);
  numbers.push(three[1]!);
  numbers.push(three[2]!);
}

/** The place after a text that begins here; a blank in it stands for one or more, a tab for any number, also none. */
function past(bytes: Uint8Array, from: number, text: Uint8Array): number {
  if (from === NONE) return NONE;
  let at = from;
  for (let nth = 0; nth < text.length; nth += 1) {
    const wanted = text[nth]!;
    if (wanted === BLANK || wanted === TAB) {
      const first = at;
      while (at < bytes.length && isBlank(bytes[at]!)) at += 1;
      if (wanted === BLANK && at === first) return NONE;
    } else {
      if (at >= bytes.length || bytes[at] !== wanted) return NONE;
      at += 1;
    }
  }
  return at;
}

function pastDigits(bytes: Uint8Array, from: number): number {
  if (from === NONE) return NONE;
  let at = from;
  while (at < bytes.length && (bytes[at]! ^ ZERO) <= 9) at += 1;
  return at > from ? at : NONE;
}

/** White space of XML. */
function isBlank(byte: number): boolean {
  return byte === BLANK || byte === LINE_FEED || byte === RETURN || byte === TAB;
}

const bytesOf = (text: string) => new TextEncoder().encode(text);
const VERTEX = bytesOf('\t<vertex x="');
const NEXT_Y = bytesOf('" y="');
const NEXT_Z = bytesOf('" z="');
const TRIANGLE = bytesOf('\t<triangle v1="');
const NEXT_V2 = bytesOf('" v2="');
const NEXT_V3 = bytesOf('" v3="');
const END = bytesOf('"\t/>');
const COLOURS = ['" pid="', '" p1="', '" p2="', '" p3="'].map(bytesOf);
