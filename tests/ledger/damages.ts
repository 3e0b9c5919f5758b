/** What may become of one byte. */

/** Signs that mean something to YAML, and those that a reader could stumble over. */
const SIGNS = [...'\0\t\n\r "\'#{}[],:-&*!|>%@`?\\.+_/~=<0179aenxoTZ'].map((sign) => sign.charCodeAt(0));
const NO_ASCII = [0x7f, 0x80, 0xa9, 0xc2, 0xc3, 0xe2, 0xff];
const DIGITS = [...'0123456789'].map((sign) => sign.charCodeAt(0));

/** What a byte is replaced by: digits for a digit, each bit the other way round, signs, bytes beyond ASCII. */
export function replacements(byte: number): number[] {
  const flips = [0, 1, 2, 3, 4, 5, 6, 7].map((bit) => byte ^ (1 << bit));
  const digits = byte >= 48 && byte <= 57 ? DIGITS : [];
  return [...new Set([...digits, ...flips, ...SIGNS, ...NO_ASCII])].filter((one) => one !== byte);
}

/** Any other byte. */
export function allReplacements(byte: number): number[] {
  return Array.from({ length: 256 }, (_, other) => other).filter((one) => one !== byte);
}

export function replaced(bytes: Uint8Array, at: number, by: number): Uint8Array {
  const changed = bytes.slice();
  changed[at] = by;
  return changed;
}

export function removed(bytes: Uint8Array, at: number): Uint8Array {
  return joined(bytes.subarray(0, at), bytes.subarray(at + 1));
}

export function doubled(bytes: Uint8Array, at: number): Uint8Array {
  return joined(bytes.subarray(0, at + 1), bytes.subarray(at));
}

function joined(first: Uint8Array, second: Uint8Array): Uint8Array {
  const whole = new Uint8Array(first.length + second.length);
  whole.set(first);
  whole.set(second, first.length);
  return whole;
}
