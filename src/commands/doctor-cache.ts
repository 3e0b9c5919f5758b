/** The cache folder as `doctor` sees it. */
import { closeSync, openSync, readdirSync, realpathSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { cacheFolder } from '../cache-folder.ts';
import { BUILD, checkpointFor, checkpointPath } from '../checkpoint/file.ts';
import { FileSpans } from '../ledger/append-span.ts';
import type { DoctorCache } from '../render/doctor.ts';

/** What is kept, and whether it is of this program and this ledger. */
export function lookAtCache(ledger: string): DoctorCache {
  const folder = cacheFolder(process.env);
  if (folder === undefined) return { folder: null, code: null, checkpoints: null, checkpoint: 'none' };
  const code = filesIn(join(folder, 'code'));
  const mine = `${BUILD}-${process.versions.node}-`;
  return {
    folder,
    code: code && { ...sizeOf(code), current: code.filter(({ name }) => name.startsWith(mine)).length },
    checkpoints: sizeOrNull(filesIn(join(folder, 'checkpoints'))),
    checkpoint: checkpointOf(ledger),
  };
}

interface Kept {
  name: string;
  bytes: number;
}

function filesIn(folder: string): Kept[] | null {
  try {
    return readdirSync(folder).map((name) => ({ name, bytes: statSync(join(folder, name)).size }));
  } catch {
    return null;
  }
}

function sizeOrNull(files: Kept[] | null): { files: number; bytes: number } | null {
  return files && sizeOf(files);
}

function sizeOf(files: readonly Kept[]): { files: number; bytes: number } {
  return { files: files.length, bytes: files.reduce((sum, { bytes }) => sum + bytes, 0) };
}

/** Of this ledger: none, one that the next command uses, or one that it makes anew. */
function checkpointOf(ledger: string): DoctorCache['checkpoint'] {
  let file: number | undefined;
  try {
    const real = realpathSync(ledger);
    const path = checkpointPath(real);
    if (path === undefined || !statSync(path, { throwIfNoEntry: false })) return 'none';
    file = openSync(real, 'r');
    return checkpointFor(real)?.isOf(new FileSpans(file)) === true ? 'fits' : 'to be made anew';
  } catch {
    return 'none';
  } finally {
    if (file !== undefined) closeSync(file);
  }
}
