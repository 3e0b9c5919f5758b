import { existsSync, fsyncSync, linkSync, mkdirSync, openSync, statSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { closeAnyway } from './append-close.ts';
import { syncFolder, writeWhole } from './append-file.ts';
import { killPoint } from './append-kill-point.ts';
import { sweepDrafts, unlinkIfThere } from './append-leftovers.ts';
import { diskProblem, knowsNoLinks } from './append-problem.ts';
import type { Problem } from './problem.ts';

interface CreateOptions {
  /** Make the folder when it is missing. */
  makeFolder?: boolean;
}

/** Makes a new file with this text, whole or not at all; null when it is there, else why not. Never writes over a file. */
export function create(path: string, text: string, options: CreateOptions = {}): Problem | null {
  const draft = `${path}.new-${process.pid.toString(36)}-${Math.floor(Math.random() * 2 ** 32).toString(36)}`;
  try {
    if (options.makeFolder === true) {
      makeFolder(dirname(path));
    }
    sweepDrafts(path);
    writeNew(draft, text);
    KILL_POINT: killPoint('draft written');
    try {
      moveTo(draft, path, text);
      KILL_POINT: killPoint('draft linked');
    } finally {
      unlinkIfThere(draft);
      KILL_POINT: killPoint('draft unlinked');
    }
    syncFolder(path);
    return null;
  } catch (error) {
    return diskProblem('create', path, error);
  }
}

/** One folder after the other: Node's own way of making them all never returns where the system says there is no such place. */
function makeFolder(path: string): void {
  if (existsSync(path)) return;
  const above = dirname(path);
  if (above !== path) makeFolder(above);
  mkdirSync(path);
  syncFolder(path);
  KILL_POINT: killPoint('folder made');
}

/** Linking fails when the name is taken, where renaming would replace the file. */
function moveTo(draft: string, path: string, text: string): void {
  try {
    linkSync(draft, path);
  } catch (error) {
    if (isSameFile(draft, path)) {
      // A disk of another machine may have linked it, and said so to nobody.
      return;
    }
    if (!knowsNoLinks(error)) {
      throw error;
    }
    writeNew(path, text);
  }
}

function isSameFile(a: string, b: string): boolean {
  try {
    const [one, other] = [a, b].map((path) => statSync(path, { bigint: true }));
    return one!.ino === other!.ino && one!.dev === other!.dev;
  } catch {
    return false;
  }
}

function writeNew(path: string, text: string): void {
  const bytes = Buffer.from(text, 'utf8');
  const file = openSync(path, 'wx');
  try {
    KILL_POINT: killPoint('draft half written', () => writeSync(file, bytes, 0, bytes.length >> 1));
    writeWhole(file, bytes, null);
    fsyncSync(file);
  } catch (error) {
    unlinkIfThere(path);
    throw error;
  } finally {
    closeAnyway(file);
  }
}
