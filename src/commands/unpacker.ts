/** Unpacks what zip files hold, with the library that Node brings. */
import { crc32, createInflateRaw } from 'node:zlib';
import type { Unpacker } from '../mesh/zip.ts';

/** Bytes that are unpacked at a time. */
const PIECE = 256 * 1024;

export const UNPACKER: Unpacker = {
  inflate(packed) {
    const inflater = createInflateRaw({ chunkSize: PIECE });
    inflater.end(packed);
    return inflater;
  },
  crc32: (bytes, before) => crc32(bytes, before),
};
