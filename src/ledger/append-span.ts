import { readSync } from 'node:fs';

/** A file that can be read in parts. */
export interface Spans {
  /** In bytes, when it was opened. */
  readonly size: number;
  /** The bytes from one place to another; fewer where the file has become shorter. */
  span(from: number, to: number): Buffer;
}

/** Reads part of an open file; fewer bytes where it ends before. */
export function spanOf(file: number, from: number, to: number): Buffer {
  const bytes = Buffer.allocUnsafe(Math.max(0, to - from));
  let done = 0;
  while (done < bytes.length) {
    const count = readSync(file, bytes, done, bytes.length - done, from + done);
    if (count === 0) break;
    done += count;
  }
  return bytes.subarray(0, done);
}

/** Bytes that were read already. */
export function spansOf(bytes: Uint8Array): Spans {
  const all = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return { size: all.length, span: (from, to) => all.subarray(from, to) };
}
