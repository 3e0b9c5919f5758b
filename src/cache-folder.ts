/** Where things are kept that can be made again: deleting the folder costs a moment, and nothing else. */
import {
  fstatSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, isAbsolute, join } from 'node:path';
import { closeAnyway } from './ledger/append-close.ts';

type Environment = Readonly<Record<string, string | undefined>>;

/** By the XDG base directory specification: a relative path does not count. Undefined where no folder is named. */
export function cacheFolder({ XDG_CACHE_HOME: xdg, HOME: home }: Environment): string | undefined {
  if (xdg && isAbsolute(xdg)) return join(xdg, 'bathbook');
  return home && isAbsolute(home) ? join(home, '.cache', 'bathbook') : undefined;
}

/** Only what belongs to the user who runs the program, and nobody else can write, is taken from the cache. */
const OTHERS_MAY_WRITE = 0o022;

/** What is kept at a path, open for reading, or undefined: not there, not readable, or somebody else's. */
export function openKept(path: string): number | undefined {
  try {
    const file = openSync(path, 'r');
    const { uid, mode } = fstatSync(file);
    const isOurs =
      process.getuid === undefined || (uid === process.getuid() && (mode & OTHERS_MAY_WRITE) === 0);
    if (isOurs) return file;
    closeAnyway(file);
    return undefined;
  } catch {
    return undefined;
  }
}

/** Its bytes. */
export function readKept(path: string): Buffer | undefined {
  const file = openKept(path);
  if (file === undefined) return undefined;
  try {
    return readFileSync(file);
  } catch {
    return undefined;
  } finally {
    closeAnyway(file);
  }
}

/** How long ago something was kept at a path; for ever, where nothing can be told of it. */
export function ageOfKept(path: string): number {
  try {
    return Date.now() - statSync(path).mtimeMs;
  } catch {
    return Number.POSITIVE_INFINITY;
  }
}

const LONG_AGO_MS = 60 * 86_400_000;

/** Keeps bytes at a path, whole or not at all; what has not been written for two months beside it is swept out. Failing is no harm. */
export function keep(path: string, parts: Iterable<Uint8Array>): void {
  const draft = `${path}.${process.pid}.draft`;
  try {
    makeFolder(dirname(path));
    sweep(dirname(path));
    writeThrough(draft, parts);
    renameSync(draft, path);
  } catch {
    remove(draft);
  }
}

/**
 * Makes a folder and those above it. Node's own way goes on for ever below /proc, where no folder can be made.
 *
 * @throws Error of the system
 */
export function makeFolder(path: string): void {
  if (statSync(path, { throwIfNoEntry: false })?.isDirectory()) return;
  if (dirname(path) !== path) makeFolder(dirname(path));
  try {
    mkdirSync(path, { mode: 0o700 });
  } catch (error) {
    // Another process may have been quicker.
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}

function remove(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // It was never there, since the folder is none.
  }
}

/** A power cut must not leave half of it under its name. */
function writeThrough(path: string, parts: Iterable<Uint8Array>): void {
  const file = openSync(path, 'wx', 0o600);
  try {
    for (const part of parts) writeFileSync(file, part);
    fsyncSync(file);
  } finally {
    closeAnyway(file);
  }
}

function sweep(folder: string): void {
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    const age = ageOfKept(path);
    if (Number.isFinite(age) && age > (name.endsWith('.draft') ? 60_000 : LONG_AGO_MS))
      rmSync(path, { force: true });
  }
}
