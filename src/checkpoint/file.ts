/**
 * Checkpoints in the cache folder: one file for each ledger, found by the ledger's path, believed only if the ledger still begins with
 * the very bytes it was made of. These are kept in it and compared, which is surer than a digest, and faster: Node takes four
 * milliseconds to load what takes digests.
 */
import { join } from 'node:path';
import { cacheFolder, keep, openKept } from '../cache-folder.ts';
import { type Spans, spanOf } from '../ledger/append-span.ts';
import type { Entry } from '../ledger/event.ts';
import type { Checkpoint, Mark, Reached, Records } from './checkpoint.ts';
import { hashOf, type Ids } from './ids.ts';

/** What comes first and last in the file. */
const MAGIC = Buffer.from('bathbook checkpoint 2\n', 'latin1');
/** In this order; their lengths come first, four bytes each. The last is the bytes of the ledger. */
const PARTS = ['mark', 'reached', 'lately', 'records', 'ids', 'begun'] as const;
type Part = (typeof PARTS)[number];
/** Both files are compared in pieces of so many bytes. */
const PIECE_BYTES = 131_072;

/** Put in by the bundler: changes with any change of the program. */
export const BUILD = process.env.BATHBOOK_BUILD ?? 'source';

/** An open checkpoint of this program, whatever ledger it is of. */
export class KeptCheckpoint implements Checkpoint {
  readonly mark: Mark;
  readonly ids: Ids;
  private readonly file: number;
  private readonly places = new Map<Part, [number, number]>();

  /** @throws Error when it is not what this program keeps */
  constructor(file: number) {
    this.file = file;
    const head = spanOf(file, 0, MAGIC.length + 4 * PARTS.length);
    let at = head.length;
    for (const [nth, part] of PARTS.entries()) {
      const length = head.readUInt32LE(MAGIC.length + 4 * nth);
      this.places.set(part, [at, at + length]);
      at += length;
    }
    const isWhole =
      head.subarray(0, MAGIC.length).equals(MAGIC) && spanOf(file, at, at + MAGIC.length).equals(MAGIC);
    this.mark = isWhole ? (JSON.parse(this.part('mark').toString()) as Mark) : NOBODYS;
    if (this.mark.build !== BUILD) throw new Error('Not a checkpoint of this program');
    // A copy: numbers of eight bytes must begin at a multiple of eight.
    this.ids = new Float64Array(Uint8Array.from(this.part('ids')).buffer);
  }

  /** A fresh copy each time. */
  reached(): Reached {
    return process.getBuiltinModule('node:v8').deserialize(this.part('reached')) as Reached;
  }

  lately(): Entry[] {
    return JSON.parse(this.part('lately').toString()) as Entry[];
  }

  records(): Records {
    return JSON.parse(this.part('records').toString()) as Records;
  }

  *begun(): Iterable<Uint8Array> {
    const [start, end] = this.places.get('begun')!;
    for (let at = start; at < end; at += PIECE_BYTES)
      yield spanOf(this.file, at, Math.min(end, at + PIECE_BYTES));
  }

  /** Whether a ledger begins with those bytes. */
  isOf(ledger: Spans): boolean {
    const { bytes } = this.mark;
    const [start] = this.places.get('begun')!;
    const room = Buffer.allocUnsafe(Math.min(bytes, PIECE_BYTES));
    for (let at = 0; at < bytes; at += PIECE_BYTES) {
      const end = Math.min(bytes, at + PIECE_BYTES);
      if (!ledger.holds(at, spanOf(this.file, start + at, start + end, room))) return false;
    }
    return true;
  }

  private part(part: Part): Buffer {
    return spanOf(this.file, ...this.places.get(part)!);
  }
}

const NOBODYS: Mark = { build: '', bytes: 0, headBytes: 0, latestMs: 0 };

/** The checkpoint that is kept for a ledger; whatever is odd about it, there is none. */
export function checkpointFor(ledger: string): KeptCheckpoint | undefined {
  const path = checkpointPath(ledger);
  const file = path === undefined ? undefined : openKept(path);
  try {
    return file === undefined ? undefined : new KeptCheckpoint(file);
  } catch {
    return undefined;
  }
}

/** Keeps a checkpoint; failing is no harm. */
export function keepCheckpoint(
  ledger: string,
  on: {
    mark: Omit<Mark, 'build'>;
    begun: Iterable<Uint8Array>;
    ids: Ids;
    reached: Uint8Array;
    lately: readonly Entry[];
    records: Records;
  },
): void {
  const path = checkpointPath(ledger);
  if (path === undefined) return;
  const mark: Mark = { build: BUILD, ...on.mark };
  const parts: Record<Exclude<Part, 'begun'>, Uint8Array> = {
    mark: Buffer.from(JSON.stringify(mark)),
    reached: on.reached,
    lately: Buffer.from(JSON.stringify(on.lately)),
    records: Buffer.from(JSON.stringify(on.records)),
    ids: new Uint8Array(on.ids.buffer, on.ids.byteOffset, on.ids.byteLength),
  };
  const lengths = Buffer.alloc(4 * PARTS.length);
  for (const [nth, part] of PARTS.entries())
    lengths.writeUInt32LE(part === 'begun' ? mark.bytes : parts[part].length, 4 * nth);
  keep(path, inOrder([MAGIC, lengths, ...Object.values(parts)], on.begun, [MAGIC]));
}

function* inOrder(...lists: Iterable<Uint8Array>[]): Iterable<Uint8Array> {
  for (const list of lists) yield* list;
}

/** Where that of a ledger is kept. Two ledgers whose names meet by chance take each other's place, and do not fit each other. */
export function checkpointPath(ledger: string): string | undefined {
  const folder = cacheFolder(process.env);
  return folder && join(folder, 'checkpoints', hashOf(ledger).toString(16).padStart(8, '0'));
}
