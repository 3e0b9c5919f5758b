import { constants, fstatSync, fsyncSync, ftruncateSync, openSync, unlinkSync, writeSync } from 'node:fs';
import { closeAnyway } from './append-close.ts';
import { ChangedMeanwhile, type OpenFile, syncFolder, writeWhole } from './append-file.ts';
import { killPoint } from './append-kill-point.ts';
import { linkRefused } from './append-problem.ts';

/** Bytes that are taken out of a ledger, and the file beside it that they are added to. */
export interface Aside {
  path: string;
  bytes: Uint8Array;
}

/**
 * Changes an open ledger, after bytes that it loses have been kept aside. When the change fails, the ledger is put back as it was
 * and what was kept aside is taken away again.
 */
export function changeKeeping(open: OpenFile, aside: Aside | null, change: () => void): void {
  const takeBack = aside === null ? null : keep(aside, open.mode);
  KILL_POINT: if (takeBack) killPoint('kept aside');
  try {
    // Keeping something aside takes a while.
    if (takeBack && !open.isUnchanged()) {
      throw new ChangedMeanwhile();
    }
    change();
  } catch (error) {
    if (open.restore()) {
      takeBack?.();
    }
    throw error;
  }
}

/** Adds bytes to a file, which is made if need be, and waits until they are on the disk. Gives what undoes it. */
function keep({ path, bytes }: Aside, mode: number): () => void {
  const { O_WRONLY, O_APPEND, O_CREAT, O_NOFOLLOW } = constants;
  let file: number | undefined;
  let takeBack = (): void => {};
  try {
    // A link put there by somebody else must not lead the ledger's lines into another file.
    file = openSync(path, O_WRONLY | O_APPEND | O_CREAT | (O_NOFOLLOW ?? 0), mode & 0o666);
    const { size } = fstatSync(file);
    takeBack = () => cutOrRemove(path, size);
    KILL_POINT: killPoint('half kept aside', () => writeSync(file!, bytes, 0, bytes.length >> 1));
    writeWhole(file, bytes, null);
    fsyncSync(file);
    syncFolder(path);
    return takeBack;
  } catch (error) {
    takeBack();
    throw Object.assign(linkRefused(error), { aside: path });
  } finally {
    if (file !== undefined) {
      closeAnyway(file);
    }
  }
}

function cutOrRemove(path: string, size: number): void {
  try {
    if (size === 0) {
      unlinkSync(path);
      return;
    }
    const file = openSync(path, 'r+');
    ftruncateSync(file, size);
    closeAnyway(file);
  } catch {
    // What is in it twice, or half, is in the ledger as well.
  }
}
