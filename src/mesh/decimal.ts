/** Decimal numbers out of bytes, without making texts of them. */

/** Powers of ten that a double holds exactly. */
const EXACT_POWERS = Float64Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
/** Whole numbers below this are exact in a double. */
const EXACT_BELOW = 2 ** 53;
/** So many digits, or fewer and a point, fit into 31 bits, in which the engine reckons faster. */
const SHORT = 9;
const LONGEST_EXPONENT = 6;
const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
/** What makes a small letter of a large one. */
const SMALL = 32;
const LETTER_E = 101;

/** Reads the number that begins at a place, and tells where it ends. */
export class DecimalReader {
  /** Place after the number that was read last. */
  end = 0;
  private whole = 0;

  /**
   * The number as `Number` reads it, as far as it goes before `to`; NaN where there is none.
   *
   * Digits below 2^53 with a power of ten up to 22 are one division or multiplication of exact numbers, which rounds as
   * it should (Clinger 1990); anything else goes to the engine.
   */
  read(bytes: Uint8Array, from: number, to: number): number {
    const first = from < to && isSign(bytes[from]!) ? from + 1 : from;
    this.whole = 0;
    const point = this.readDigits(bytes, first, to);
    const hasPoint = point < to && bytes[point] === POINT;
    const end = hasPoint ? this.readDigits(bytes, point + 1, to) : point;
    const digits = end - first <= SHORT ? this.whole : longWhole(bytes, first, end);
    this.end = end;
    if (end - first === (hasPoint ? 1 : 0)) return Number.NaN;
    let power = hasPoint ? point + 1 - end : 0;
    if (end < to && (bytes[end]! | SMALL) === LETTER_E) {
      if (!this.readExponent(bytes, end + 1, to)) return Number.NaN;
      power += this.whole;
    }
    if (digits >= EXACT_BELOW || power > 22 || power < -22) return byEngine(bytes, from, this.end);
    const size = power < 0 ? digits / EXACT_POWERS[-power]! : digits * EXACT_POWERS[power]!;
    return bytes[from] === MINUS ? -size : size;
  }

  /** What follows the letter, of `e-05`. */
  private readExponent(bytes: Uint8Array, from: number, to: number): boolean {
    const first = from < to && isSign(bytes[from]!) ? from + 1 : from;
    this.whole = 0;
    this.end = this.readDigits(bytes, first, to);
    if (bytes[from] === MINUS) this.whole = -this.whole;
    return this.end > first && this.end - first <= LONGEST_EXPONENT;
  }

  /** Adds digits to the whole number that was begun; gives the place after them. */
  private readDigits(bytes: Uint8Array, from: number, to: number): number {
    let { whole } = this;
    let at = from;
    for (; at < to; at += 1) {
      // Of all bytes only digits differ from "0" by no more than nine so.
      const digit = bytes[at]! ^ ZERO;
      if (digit > 9) break;
      whole = (Math.imul(whole, 10) + digit) | 0;
    }
    this.whole = whole;
    return at;
  }
}

function isSign(byte: number): boolean {
  return byte === MINUS || byte === PLUS;
}

/** The digits between two places, with or without a point among them. */
function longWhole(bytes: Uint8Array, from: number, to: number): number {
  let whole = 0;
  for (let at = from; at < to; at += 1) {
    const digit = bytes[at]! ^ ZERO;
    if (digit <= 9) whole = whole * 10 + digit;
  }
  return whole;
}

function byEngine(bytes: Uint8Array, from: number, to: number): number {
  return Number(String.fromCharCode(...bytes.subarray(from, to)));
}

const READER = new DecimalReader();

/** The number that is written from one place up to another; NaN where that is not one. */
export function decimal(bytes: Uint8Array, from: number, to: number): number {
  const number = READER.read(bytes, from, to);
  return READER.end === to ? number : Number.NaN;
}
