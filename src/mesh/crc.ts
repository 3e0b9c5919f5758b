/** The check sum of zip files. */

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit += 1) rest = rest & 1 ? (rest >>> 1) ^ 0xedb88320 : rest >>> 1;
  return rest;
});

/**
 * CRC-32 of bytes that come in pieces, as in ISO/IEC 13239 and PKWARE's APPNOTE 4.4.7; begin with 0.
 *
 * Example: the nine bytes of "123456789" → 0xcbf43926.
 */
export function crc32(before: number, bytes: Uint8Array): number {
  let rest = ~before;
  for (let at = 0; at < bytes.length; at += 1) rest = TABLE[(rest ^ bytes[at]!) & 255]! ^ (rest >>> 8);
  return ~rest >>> 0;
}
