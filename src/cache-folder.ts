/** Where things are kept that can be made again: deleting the folder costs a moment, and nothing else. */
import {
  closeSync,
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

type Environment = Readonly<Record<string, string | undefined>>;

/** By the XDG base directory specification: a relative path does not count. Undefined where no folder is named. */
export function cacheFolder({ XDG_CACHE_HOME: xdg, HOME: home }: Environment): string | undefined {
  if (xdg && isAbsolute(xdg)) return join(xdg, 'bathbook');
  return home && isAbsolute(home) ? join(home, '.cache', 'bathbook') : undefined;
}

/** Only what belongs to the user who runs the program, and nobody else can write, is taken from the cache. */
const OTHERS_MAY_WRITE = 0o022;

/** The bytes kept at a path, or undefined: not there, not readable, or somebody else's. */
export function readKept(path: string): Buffer | undefined {
  let file: number | undefined;
  try {
    file = openSync(path, 'r');
    const { uid, mode } = fstatSync(file);
    const ours =
      process.getuid === undefined || (uid === process.getuid() && (mode & OTHERS_MAY_WRITE) === 0);
    return ours ? readFileSync(file) : undefined;
  } catch {
    return undefined;
  } finally {
    if (file !== undefined) closeSync(file);
  }
}

const LONG_AGO_MS = 60 * 86_400_000;

/** Keeps bytes at a path, whole or not at all; what has not been written for two months beside it is swept out. Failing is no harm. */
export function keep(path: string, bytes: Uint8Array): void {
  const draft = `${path}.${process.pid}.draft`;
  try {
    mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
    sweep(dirname(path));
    writeThrough(draft, bytes);
    renameSync(draft, path);
  } catch {
    rmSync(draft, { force: true });
  }
}

/** A power cut must not leave half of it under its name. */
function writeThrough(path: string, bytes: Uint8Array): void {
  const file = openSync(path, 'wx', 0o600);
  try {
    writeFileSync(file, bytes);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

function sweep(folder: string): void {
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    const { mtimeMs } = statSync(path);
    if (Date.now() - mtimeMs > (name.endsWith('.draft') ? 60_000 : LONG_AGO_MS))
      rmSync(path, { force: true });
  }
}
