/** Decimal numbers out of bytes, without making texts of them. */

/** Powers of ten that a double holds exactly. */
const EXACT_POWERS = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
/** Whole numbers below this are exact in a double. */
const EXACT_BELOW = 2 ** 53;
const [PLUS, MINUS, POINT, ZERO, NINE, E_LARGE, E_SMALL] = [43, 45, 46, 48, 57, 69, 101];

/**
 * The number that is written from one place up to another, as `Number` reads it; NaN where there is none.
 *
 * Digits below 2^53 with a power of ten up to 22 are one division or multiplication of exact numbers, which rounds as
 * it should (Clinger 1990); anything else goes to the engine.
 */
export function decimal(bytes: Uint8Array, from: number, to: number): number {
  let at = from;
  const sign = bytes[at];
  if (sign === MINUS || sign === PLUS) at += 1;
  let digits = 0;
  let places = 0;
  let pointAt = -1;
  for (; at < to; at += 1) {
    const byte = bytes[at]!;
    if (byte >= ZERO && byte <= NINE) {
      digits = digits * 10 + (byte - ZERO);
      places += 1;
    } else if (byte === POINT && pointAt < 0) pointAt = places;
    else break;
  }
  if (places === 0) return Number.NaN;
  let power = pointAt < 0 ? 0 : pointAt - places;
  if (at < to) {
    const exponent = exponentOf(bytes, at, to);
    if (Number.isNaN(exponent)) return Number.NaN;
    power += exponent;
  }
  if (digits >= EXACT_BELOW || power > 22 || power < -22) return byEngine(bytes, from, to);
  const size = power < 0 ? digits / EXACT_POWERS[-power]! : digits * EXACT_POWERS[power]!;
  return sign === MINUS ? -size : size;
}

/** Of `e-05`; NaN for anything else. */
function exponentOf(bytes: Uint8Array, from: number, to: number): number {
  if (bytes[from] !== E_SMALL && bytes[from] !== E_LARGE) return Number.NaN;
  const sign = bytes[from + 1];
  const first = sign === MINUS || sign === PLUS ? from + 2 : from + 1;
  if (first >= to || to - first > 6) return Number.NaN;
  let value = 0;
  for (let at = first; at < to; at += 1) {
    const byte = bytes[at]!;
    if (byte < ZERO || byte > NINE) return Number.NaN;
    value = value * 10 + (byte - ZERO);
  }
  return sign === MINUS ? -value : value;
}

function byEngine(bytes: Uint8Array, from: number, to: number): number {
  return Number(String.fromCharCode(...bytes.subarray(from, to)));
}
