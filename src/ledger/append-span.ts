import { fstatSync, readSync } from 'node:fs';

/** A file that can be read in parts. */
export interface Spans {
  /** In bytes, when it was opened. */
  readonly size: number;
  /** The bytes from one place to another; fewer where the file has become shorter. */
  span(from: number, to: number): Buffer;
  /** Whether these bytes stand at a place. */
  holds(from: number, bytes: Buffer): boolean;
}

/** An open file. */
export class FileSpans implements Spans {
  readonly size: number;
  private readonly file: number;
  private room = Buffer.alloc(0);

  constructor(file: number) {
    this.file = file;
    this.size = fstatSync(file).size;
  }

  span(from: number, to: number): Buffer {
    return spanOf(this.file, from, to);
  }

  holds(from: number, bytes: Buffer): boolean {
    if (this.room.length < bytes.length) this.room = Buffer.allocUnsafe(bytes.length);
    return spanOf(this.file, from, from + bytes.length, this.room).equals(bytes);
  }
}

/** Reads part of an open file, into `room` where it is given; fewer bytes where it ends before. */
export function spanOf(file: number, from: number, to: number, room?: Buffer): Buffer {
  const length = Math.max(0, to - from);
  const bytes = room ? room.subarray(0, length) : Buffer.allocUnsafe(length);
  let done = 0;
  while (done < bytes.length) {
    const count = readSync(file, bytes, done, bytes.length - done, from + done);
    if (count === 0) break;
    done += count;
  }
  return bytes.subarray(0, done);
}
