import {
  closeSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readFileSync,
  statSync,
  writeSync,
} from 'node:fs';
import { dirname } from 'node:path';

/** An open ledger whose bytes were read, and which must not have changed since. */
export class OpenFile {
  readonly path: string;
  readonly bytes: Uint8Array;
  private readonly file: number;

  constructor(path: string) {
    this.path = path;
    this.file = openSync(path, 'r+');
    this.bytes = readFileSync(this.file);
  }

  /** True while the path still leads to this file and nobody has changed its length. */
  isUnchanged(): boolean {
    const open = fstatSync(this.file);
    const named = statSync(this.path);
    return open.ino === named.ino && open.dev === named.dev && open.size === this.bytes.length;
  }

  /** Writes at the end of the first `from` bytes in one go; on failure the file is cut back to its old length. */
  writeAt(from: number, bytes: Uint8Array): void {
    try {
      const count = writeSync(this.file, bytes, 0, bytes.length, from);
      if (count < bytes.length) {
        throw Object.assign(new Error('short write'), { code: 'ENOSPC' });
      }
      fsyncSync(this.file);
    } catch (error) {
      this.cut(from);
      throw error;
    }
  }

  /** Replaces bytes in place with as many others. */
  overwrite(from: number, bytes: Uint8Array): void {
    writeSync(this.file, bytes, 0, bytes.length, from);
  }

  cut(length: number): void {
    ftruncateSync(this.file, length);
    fsyncSync(this.file);
  }

  close(): void {
    closeSync(this.file);
  }
}

/** Adds bytes to a file beside the ledger, which is made if need be, and waits until they are on the disk. */
export function keepAside(path: string, bytes: Uint8Array): void {
  const file = openSync(path, 'a');
  try {
    if (writeSync(file, bytes) < bytes.length) {
      throw Object.assign(new Error('short write'), { code: 'ENOSPC' });
    }
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  syncFolder(path);
}

/** Makes a new name in a folder last through a power cut, where the system can. */
export function syncFolder(path: string): void {
  try {
    const folder = openSync(dirname(path), 'r');
    try {
      fsyncSync(folder);
    } finally {
      closeSync(folder);
    }
  } catch {
    // Not every system can open a folder; the file itself is on the disk.
  }
}
