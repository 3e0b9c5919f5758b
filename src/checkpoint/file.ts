/**
 * Checkpoints in the cache folder: one file for each ledger, found by the ledger's path, believed only if the ledger still begins with
 * the very bytes it was made of. These are kept beside it and compared, which is surer than a digest, and faster: the module that takes
 * digests is loaded in four milliseconds.
 */
import { join } from 'node:path';
import { cacheFolder, keep, readKept } from '../cache-folder.ts';
import type { Mark, Reached } from './checkpoint.ts';
import { hashOf, type Ids } from './ids.ts';

export interface Checkpoint {
  mark: Mark;
  ids: Ids;
  /** A fresh copy each time. */
  reached(): Reached;
}

/** What comes first and last in the file. */
const MAGIC = Buffer.from('bathbook checkpoint 1\n', 'latin1');
/** The parts of the file: the mark, what was reached, ids, the bytes of the ledger. Their lengths come first, four bytes each. */
const PARTS = 4;

/** Put in by the bundler: changes with any change of the program. */
const BUILD = process.env.BATHBOOK_BUILD ?? 'source';

/** What is kept for a ledger; undefined where nothing is. */
export function keptFor(ledger: string): Buffer | undefined {
  const path = pathOf(ledger);
  return path === undefined ? undefined : readKept(path);
}

/** What was kept, if it fits these bytes; whatever is odd about it, there is no checkpoint. */
export function checkpointOf(kept: Buffer, bytes: Uint8Array): Checkpoint | undefined {
  try {
    const [head, reached, ids, begun] = partsOf(kept);
    const mark = JSON.parse(head.toString()) as Mark;
    if (mark.build !== BUILD || !begun.equals(bytes.subarray(0, mark.bytes))) return undefined;
    return {
      mark,
      // A copy: numbers of four bytes must begin at a multiple of four.
      ids: new Uint32Array(Uint8Array.from(ids).buffer),
      reached: () => process.getBuiltinModule('node:v8').deserialize(reached) as Reached,
    };
  } catch {
    return undefined;
  }
}

/** Keeps a checkpoint; failing is no harm. */
export function keepCheckpoint(
  ledger: string,
  bytes: Uint8Array,
  on: { mark: Omit<Mark, 'build'>; ids: Ids; reached: Uint8Array },
): void {
  const path = pathOf(ledger);
  if (path === undefined) return;
  const mark: Mark = { build: BUILD, ...on.mark };
  const ids = new Uint8Array(on.ids.buffer, on.ids.byteOffset, on.ids.byteLength);
  const parts = [Buffer.from(JSON.stringify(mark)), on.reached, ids, bytes.subarray(0, mark.bytes)];
  const lengths = Buffer.alloc(4 * PARTS);
  for (const [nth, part] of parts.entries()) lengths.writeUInt32LE(part.length, 4 * nth);
  keep(path, Buffer.concat([MAGIC, lengths, ...parts, MAGIC]));
}

/** @throws Error when it is not what this program keeps */
function partsOf(file: Buffer): [Buffer, Buffer, Buffer, Buffer] {
  const lengths = [0, 1, 2, 3].map((nth) => file.readUInt32LE(MAGIC.length + 4 * nth));
  let at = MAGIC.length + 4 * PARTS;
  const parts = lengths.map((length) => {
    const part = file.subarray(at, at + length);
    at += length;
    return part;
  });
  const isWhole = file.subarray(0, MAGIC.length).equals(MAGIC) && file.subarray(at).equals(MAGIC);
  if (!isWhole) throw new Error('Not a checkpoint');
  return parts as [Buffer, Buffer, Buffer, Buffer];
}

/** Two ledgers whose names meet by chance take each other's place, and do not fit each other. */
function pathOf(ledger: string): string | undefined {
  const folder = cacheFolder(process.env);
  return folder && join(folder, 'checkpoints', hashOf(ledger).toString(16).padStart(8, '0'));
}
