/** Files within a zip file, by its table of contents at the end (PKWARE APPNOTE 4.3); never more of them than a bound. */
import { EXPORT_AGAIN, Unreadable } from './fault.ts';

/** What is done by a library that the caller brings. */
export interface Unpacker {
  /** Of raw deflate (RFC 1951), piece by piece; throws where it is damaged or cut off. */
  inflate(packed: Uint8Array): AsyncIterable<Uint8Array>;
  /** CRC-32 of bytes that come in pieces (PKWARE APPNOTE 4.4.7); begins with 0. */
  crc32(bytes: Uint8Array, before: number): number;
}

interface Entry {
  flags: number;
  method: number;
  crc: number;
  packedBytes: number;
  bytes: number;
  /** Where its own head lies. */
  at: number;
}

/** What all parts of a file may unpack to: a print of seven million triangles; and no more than a file that was made to be large. */
const MOST_UNPACKED_BYTES = 512 * 1024 * 1024;
const MOST_ENTRIES = 10_000;
const [END_SIGN, ENTRY_SIGN, LOCAL_SIGN, END64_SIGN, PLACE64_SIGN] = [
  0x06054b50, 0x02014b50, 0x04034b50, 0x06064b50, 0x07064b50,
];
const DAMAGED = `copy it again, or ${EXPORT_AGAIN}`;

export class Zip {
  private readonly bytes: Uint8Array;
  private readonly unpacker: Unpacker;
  private readonly view: DataView;
  private readonly entries = new Map<string, Entry>();
  private byPath: Map<string, string> | undefined;
  private unpacked = 0;
  private readonly most: number;

  /** @throws Unreadable where it has no table of contents */
  constructor(bytes: Uint8Array, unpacker: Unpacker, most = MOST_UNPACKED_BYTES) {
    this.bytes = bytes;
    this.unpacker = unpacker;
    this.most = most;
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    try {
      this.readContents();
    } catch (error) {
      if (error instanceof RangeError) throw new Unreadable('its table of contents is damaged', DAMAGED);
      throw error;
    }
  }

  /** Names of what is in it, as they are written there. */
  get names(): string[] {
    return [...this.entries.keys()];
  }

  /** The name of a part as the file writes it; names differ in capitals at most. */
  find(path: string): string | undefined {
    this.byPath ??= new Map(this.names.toReversed().map((name) => [plainPath(name), name]));
    return this.byPath.get(plainPath(path));
  }

  /**
   * Unpacks a part, piece by piece.
   *
   * @throws Unreadable where it is encrypted, damaged, packed in a way that is not read, or larger than the bound
   */
  async unpack(name: string, take: (bytes: Uint8Array) => void): Promise<void> {
    const entry = this.entries.get(name)!;
    if ((entry.flags & 1) !== 0)
      throw new Unreadable(`"${name}" in it is encrypted`, 'export the part without a password');
    let [crc, bytes] = [0, 0];
    for await (const piece of this.pieces(name, entry)) {
      this.unpacked += piece.length;
      bytes += piece.length;
      if (this.unpacked > this.most) throw this.tooLarge();
      crc = this.unpacker.crc32(piece, crc);
      take(piece);
    }
    if (crc !== entry.crc || bytes !== entry.bytes)
      throw new Unreadable(`"${name}" in it is damaged`, DAMAGED);
  }

  private pieces(name: string, entry: Entry): AsyncIterable<Uint8Array> | Iterable<Uint8Array> {
    const packed = this.packed(name, entry);
    if (entry.method === 0) return [packed];
    if (entry.method === 8) return this.inflated(packed, name);
    throw new Unreadable(
      `"${name}" in it is packed in a way that is not read (${entry.method})`,
      EXPORT_AGAIN,
    );
  }

  private async *inflated(packed: Uint8Array, name: string): AsyncIterable<Uint8Array> {
    try {
      yield* this.unpacker.inflate(packed);
    } catch {
      throw new Unreadable(`"${name}" in it is damaged`, DAMAGED);
    }
  }

  private tooLarge(): Unreadable {
    return new Unreadable(
      `it unpacks to more than ${Math.round(this.most / 1024 / 1024)} MB`,
      'export fewer parts in one file, or as binary STL',
    );
  }

  private packed(name: string, { at, packedBytes }: Entry): Uint8Array {
    const inFile = at + 30 <= this.bytes.length && this.view.getUint32(at, true) === LOCAL_SIGN;
    const from = inFile
      ? at + 30 + this.view.getUint16(at + 26, true) + this.view.getUint16(at + 28, true)
      : 0;
    if (!inFile || from + packedBytes > this.bytes.length) {
      throw new Unreadable(`"${name}" in it is cut off`, DAMAGED);
    }
    return this.bytes.subarray(from, from + packedBytes);
  }

  private readContents(): void {
    const { view } = this;
    const end = this.findEnd();
    let count = view.getUint16(end + 10, true);
    let at = view.getUint32(end + 16, true);
    if (
      (count === 0xffff || at === 0xffffffff) &&
      end >= 20 &&
      view.getUint32(end - 20, true) === PLACE64_SIGN
    ) {
      const large = this.whole(end - 20 + 8);
      if (view.getUint32(large, true) !== END64_SIGN) throw new RangeError();
      count = this.whole(large + 32);
      at = this.whole(large + 48);
    }
    if (count > MOST_ENTRIES)
      throw new Unreadable(`it holds ${count} files; a part holds a few`, EXPORT_AGAIN);
    for (let nth = 0; nth < count; nth += 1) at = this.readEntry(at);
  }

  /** The end of a zip file may be followed by a comment of up to 65 535 bytes. */
  private findEnd(): number {
    for (let at = this.bytes.length - 22; at >= Math.max(0, this.bytes.length - 22 - 65535); at -= 1) {
      if (this.view.getUint32(at, true) === END_SIGN) return at;
    }
    throw new Unreadable('it is cut off: it has no table of contents', DAMAGED);
  }

  /** @returns the place of the next entry */
  private readEntry(at: number): number {
    const { view } = this;
    if (view.getUint32(at, true) !== ENTRY_SIGN) throw new RangeError();
    const nameEnd = at + 46 + view.getUint16(at + 28, true);
    const extraEnd = nameEnd + view.getUint16(at + 30, true);
    if (nameEnd > this.bytes.length) throw new RangeError();
    const entry: Entry = {
      flags: view.getUint16(at + 8, true),
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packedBytes: view.getUint32(at + 20, true),
      bytes: view.getUint32(at + 24, true),
      at: view.getUint32(at + 42, true),
    };
    this.widen(entry, nameEnd, extraEnd);
    this.entries.set(new TextDecoder().decode(this.bytes.subarray(at + 46, nameEnd)), entry);
    return extraEnd + view.getUint16(at + 32, true);
  }

  /** Sizes that do not fit into 32 bits stand in a field of their own, in this order (APPNOTE 4.5.3). */
  private widen(entry: Entry, from: number, to: number): void {
    for (let at = from; at + 4 <= to; at += 4 + this.view.getUint16(at + 2, true)) {
      if (this.view.getUint16(at, true) !== 1) continue;
      let value = at + 4;
      for (const key of ['bytes', 'packedBytes', 'at'] as const) {
        if (entry[key] !== 0xffffffff) continue;
        entry[key] = this.whole(value);
        value += 8;
      }
    }
  }

  /** A number of 64 bits that stands for a place or a size in this file. */
  private whole(at: number): number {
    const value = Number(this.view.getBigUint64(at, true));
    if (!Number.isSafeInteger(value)) throw new RangeError();
    return value;
  }
}

function plainPath(path: string): string {
  return path.replace(/^\/+/, '').toLowerCase();
}
