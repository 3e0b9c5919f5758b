/**
 * Checkpoints in the cache folder: one file for each ledger, found by the ledger's path, believed only if the ledger still begins with
 * the very bytes it was made of.
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

/** What comes first in the file: what it is, and its version. */
const MAGIC = Buffer.from('bathbook checkpoint 1\n', 'latin1');
const DIGEST_BYTES = 32;
/** Lengths of the three parts, four bytes each. */
const LENGTHS_BYTES = 12;

/** Put in by the bundler: changes with any change of the program. */
const BUILD = process.env.BATHBOOK_BUILD ?? 'source';

/** Loaded where there is something to check alone: it takes Node two milliseconds. */
type Crypto = typeof import('node:crypto');

/** Where the checkpoint of a ledger is kept, if anywhere: undefined where there is none. */
export function keptFor(ledger: string): Buffer | undefined {
  const path = pathOf(ledger);
  return path === undefined ? undefined : readKept(path);
}

/** What was kept, if it fits these bytes; whatever is odd about it, there is no checkpoint. */
export async function checkpointOf(kept: Buffer, bytes: Uint8Array): Promise<Checkpoint | undefined> {
  const crypto = await import('node:crypto');
  const { deserialize } = await import('node:v8');
  try {
    const { mark, reached, ids } = unpack(kept, crypto);
    if (!fits(mark, bytes, crypto)) return undefined;
    return { mark, ids, reached: () => deserialize(reached) as Reached };
  } catch {
    return undefined;
  }
}

/** Keeps a checkpoint; failing is no harm. */
export async function keepCheckpoint(
  ledger: string,
  bytes: Uint8Array,
  on: { mark: Pick<Mark, 'bytes' | 'headBytes' | 'latestMs'>; ids: Ids; reached: Uint8Array },
): Promise<void> {
  const path = pathOf(ledger);
  if (path === undefined) return;
  const crypto = await import('node:crypto');
  const sha256 = digest(bytes.subarray(0, on.mark.bytes), crypto).toString('hex');
  const mark: Mark = { build: BUILD, sha256, ...on.mark };
  const parts = [Buffer.from(JSON.stringify(mark)), on.reached, bytesOf(on.ids)];
  const lengths = Buffer.alloc(LENGTHS_BYTES);
  for (const [nth, part] of parts.entries()) lengths.writeUInt32LE(part.length, 4 * nth);
  const body = Buffer.concat([lengths, ...parts]);
  keep(path, Buffer.concat([MAGIC, digest(body, crypto), body]));
}

/** @throws Error when it is not what this program keeps */
function unpack(file: Buffer, crypto: Crypto): { mark: Mark; reached: Buffer; ids: Ids } {
  const start = MAGIC.length + DIGEST_BYTES;
  const body = file.subarray(start);
  const whole =
    file.subarray(0, MAGIC.length).equals(MAGIC) &&
    digest(body, crypto).equals(file.subarray(MAGIC.length, start));
  if (!whole) throw new Error('Not a checkpoint');
  let at = LENGTHS_BYTES;
  const part = (nth: number): Buffer => {
    const from = at;
    at += body.readUInt32LE(4 * nth);
    return body.subarray(from, at);
  };
  const mark = JSON.parse(part(0).toString()) as Mark;
  const reached = part(1);
  // A copy: numbers of four bytes must begin at a multiple of four.
  return { mark, reached, ids: new Uint32Array(Uint8Array.from(part(2)).buffer) };
}

function fits({ build, bytes: length, sha256 }: Mark, bytes: Uint8Array, crypto: Crypto): boolean {
  if (build !== BUILD || length > bytes.length) return false;
  return digest(bytes.subarray(0, length), crypto).toString('hex') === sha256;
}

/** Two ledgers whose names meet by chance take each other's place, and do not fit each other. */
function pathOf(ledger: string): string | undefined {
  const folder = cacheFolder(process.env);
  return folder && join(folder, 'checkpoints', hashOf(ledger).toString(16).padStart(8, '0'));
}

function digest(bytes: Uint8Array, { createHash }: Crypto): Buffer {
  return createHash('sha256').update(bytes).digest();
}

function bytesOf(ids: Ids): Uint8Array {
  return new Uint8Array(ids.buffer, ids.byteOffset, ids.byteLength);
}
