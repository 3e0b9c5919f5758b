import {
  type BigIntStats,
  constants,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readFileSync,
  statSync,
  writeSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { closeAnyway } from './append-close.ts';
import { killPoint } from './append-kill-point.ts';
import { type Spans, spanOf } from './append-span.ts';

/** A file changed twice within this time may show the same time both times; some disks count in two seconds. */
const TIME_STEP_MS = 3000;

/** An open ledger, which must not have changed since it was opened. */
export class OpenFile implements Spans {
  readonly path: string;
  readonly size: number;
  private readonly file: number;
  private readonly seen: BigIntStats;
  private read: Uint8Array | undefined;
  /** Of the bytes read, the first that is no longer there or may be another. */
  private changedFrom: number | undefined;
  /** Bytes that were replaced in place, what they were before and are now. */
  private readonly replaced: { at: number; was: number; now: number }[] = [];
  /** Of the bytes read, how many make whole lines that stay whatever happens. */
  private keptLength: number;

  constructor(path: string) {
    this.path = path;
    this.file = openSync(path, 'r+');
    KILL_POINT: killPoint('file opened');
    try {
      this.seen = fstatSync(this.file, { bigint: true });
      // Of a file that was changed just now a further change may not show in its time, but in its bytes alone.
      if (this.isRecent()) {
        this.read = readFileSync(this.file);
      }
    } catch (error) {
      closeAnyway(this.file);
      throw error;
    }
    this.size = this.read?.length ?? Number(this.seen.size);
    this.keptLength = this.size;
    KILL_POINT: killPoint('file read');
  }

  /** All of it; a long ledger is read when it is first asked for. */
  get bytes(): Uint8Array {
    this.read ??= this.span(0, this.size);
    return this.read;
  }

  span(from: number, to: number): Buffer {
    return spanOf(this.file, from, to);
  }

  holds(from: number, bytes: Buffer): boolean {
    return this.span(from, from + bytes.length).equals(bytes);
  }

  private isRecent(): boolean {
    return Date.now() - Number(this.seen.mtimeNs / 1_000_000n) < TIME_STEP_MS;
  }

  /** The permissions of the ledger, for what is kept beside it. */
  get mode(): number {
    return Number(this.seen.mode) & 0o777;
  }

  /** True while the path still leads to this file and nobody has written to it. */
  isUnchanged(): boolean {
    const now = fstatSync(this.file, { bigint: true });
    const sameTime = now.mtimeNs === this.seen.mtimeNs && now.size === BigInt(this.size);
    return sameTime && this.isNamed() && (!this.isRecent() || this.holdsWhatWasRead());
  }

  /** True while the path leads to this file and not to another put in its place. */
  isNamed(): boolean {
    return isSameFile(this.seen, statSync(this.path, { bigint: true, throwIfNoEntry: false }));
  }

  private holdsWhatWasRead(): boolean {
    return this.read === undefined || this.span(0, this.size).equals(this.read);
  }

  /** Adds bytes at the end in one go, after whatever else was added there, and waits until they are on the disk. */
  add(bytes: Uint8Array): void {
    this.changedFrom ??= this.size;
    const end = openSync(this.path, constants.O_WRONLY | constants.O_APPEND);
    try {
      if (!isSameFile(this.seen, fstatSync(end, { bigint: true }))) {
        throw new ChangedMeanwhile();
      }
      KILL_POINT: killPoint('half written', () => writeSync(end, bytes, 0, bytes.length >> 1));
      KILL_POINT: killPoint('line end missing', () => writeSync(end, bytes, 0, bytes.length - 1));
      writeWhole(end, bytes, null);
      KILL_POINT: killPoint('written');
      fsyncSync(end);
      KILL_POINT: killPoint('on the disk');
    } finally {
      closeAnyway(end);
    }
    if (!this.isNamed()) {
      throw new ChangedMeanwhile();
    }
  }

  /** Replaces a byte in place, which no disk does by halves. */
  replace(at: number, byte: number): void {
    this.read = this.bytes;
    const was = this.replaced.findLast((one) => one.at === at)?.now ?? this.read[at]!;
    this.replaced.push({ at, was, now: byte });
    writeWhole(this.file, Uint8Array.of(byte), at);
  }

  cut(length: number): void {
    this.read = this.bytes;
    this.changedFrom = Math.min(length, this.changedFrom ?? length);
    this.keptLength = length;
    ftruncateSync(this.file, length);
    fsyncSync(this.file);
  }

  /** Puts back what was read; true when all of it is there again, on the disk. What cannot be put back is no whole line. */
  restore(): boolean {
    if (this.changedFrom === undefined && this.replaced.length === 0) {
      return true;
    }
    try {
      const from = this.changedFrom ?? this.size;
      if (from < this.size) {
        writeWhole(this.file, this.bytes.subarray(from), from);
      }
      if (fstatSync(this.file).size !== this.size) {
        ftruncateSync(this.file, this.size);
      }
      // Only now: a list that is empty by its brackets cannot be followed by lines.
      for (const { at, was } of this.replaced.toReversed()) {
        writeWhole(this.file, Uint8Array.of(was), at);
      }
    } catch {
      this.cutBack();
      return false;
    }
    try {
      fsyncSync(this.file);
      return true;
    } catch {
      return false;
    }
  }

  private cutBack(): void {
    try {
      ftruncateSync(this.file, this.keptLength);
    } catch {
      // Nothing more can be done; a line left incomplete is not read.
    }
  }

  close(): void {
    closeAnyway(this.file);
  }
}

/** Somebody changed the ledger just now, or put another in its place, so that what was written went to the old one. */
export class ChangedMeanwhile extends Error {}

function isSameFile(a: BigIntStats, b: BigIntStats | undefined): boolean {
  return b !== undefined && a.ino === b.ino && a.dev === b.dev;
}

/** Writes all of the bytes, or throws: a part of them is a full disk. */
export function writeWhole(file: number, bytes: Uint8Array, from: number | null): void {
  if (writeSync(file, bytes, 0, bytes.length, from) < bytes.length) {
    throw Object.assign(new Error('short write'), { code: 'ENOSPC' });
  }
}

/** Makes a new name in a folder last through a power cut, where the system can. */
export function syncFolder(path: string): void {
  try {
    const folder = openSync(dirname(path), 'r');
    try {
      fsyncSync(folder);
    } finally {
      closeAnyway(folder);
    }
  } catch {
    // Not every system can open a folder; the file itself is on the disk.
  }
}
