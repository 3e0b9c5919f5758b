import {
  closeSync,
  linkSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  unlinkSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { diskProblem } from './append-problem.ts';
import { isGone, type Owner, ourselves, readOwner } from './lock-owner.ts';
import type { Problem } from './problem.ts';

/** A lock that is held. */
export interface Lock {
  /** True while nobody has taken it from us; asked once more right before the ledger changes. */
  isOurs(): boolean;
  release(): void;
}

const FIRST_WAIT_MS = 1;
const LONGEST_WAIT_MS = 25;
const PATIENCE_MS = 2000;
/** A lock file that names no owner was left half written, where the disk knows no links; it is honoured for so long. */
const NAMELESS_MS = 10_000;

/**
 * Takes the lock `<ledger>.lock`, waiting up to two seconds. Readers need none.
 *
 * The lock names its owner from its first moment, because the file is written under another name and linked into
 * place. A lock whose owner was a process of this machine and is gone is broken; one of another machine never is.
 */
export async function takeLock(
  ledger: string,
  command: string,
  patienceMs: number = PATIENCE_MS,
): Promise<Lock | Problem> {
  const path = `${ledger}.lock`;
  const owner = ourselves(command);
  const until = performance.now() + patienceMs;
  for (let wait = FIRST_WAIT_MS; ; wait = Math.min(wait * 2, LONGEST_WAIT_MS)) {
    try {
      if (place(path, owner)) {
        return held(path, owner);
      }
    } catch (error) {
      return diskProblem('lock', ledger, error);
    }
    const other = whoHolds(path);
    if (other === 'nobody' || (isStale(path, other) && breakLock(path, other, command))) {
      continue;
    }
    if (performance.now() > until) {
      return isLocked(ledger, path, other);
    }
    await new Promise((resolve) => setTimeout(resolve, wait * (0.5 + Math.random() / 2)));
  }
}

/** Puts the lock in place; false when there is one already. */
function place(path: string, owner: Owner): boolean {
  const draft = `${path}.${owner.token}`;
  writeFileSync(draft, JSON.stringify(owner), { flag: 'wx' });
  try {
    linkSync(draft, path);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') {
      return false;
    }
    if (code === 'EPERM' || code === 'ENOSYS' || code === 'ENOTSUP' || code === 'EOPNOTSUPP') {
      return placeWithoutLink(path, owner);
    }
    throw error;
  } finally {
    unlinkSync(draft);
  }
}

function placeWithoutLink(path: string, owner: Owner): boolean {
  try {
    const file = openSync(path, 'wx');
    writeSync(file, JSON.stringify(owner));
    closeSync(file);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') {
      return false;
    }
    throw error;
  }
}

function held(path: string, owner: Owner): Lock {
  const isOurs = (): boolean => {
    const now = whoHolds(path);
    return now !== 'nobody' && now !== null && now.token === owner.token;
  };
  return {
    isOurs,
    release: () => {
      if (isOurs()) {
        unlinkSync(path);
      }
    },
  };
}

/** The owner of a lock; null when the file names none. */
function whoHolds(path: string): Owner | 'nobody' | null {
  try {
    return readOwner(readFileSync(path, 'utf8'));
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'nobody' : null;
  }
}

function isStale(path: string, owner: Owner | null): boolean {
  if (owner !== null) {
    return isGone(owner);
  }
  try {
    return Date.now() - statSync(path).mtimeMs > NAMELESS_MS;
  } catch {
    return false;
  }
}

/**
 * Removes the lock of an owner that is gone. A second lock lets only one process do it at a time: without it, two that
 * saw the same stale lock could remove it and then the fresh lock of whoever came first.
 */
function breakLock(path: string, seen: Owner | null, command: string): boolean {
  const second = `${path}.break`;
  if (!place(second, ourselves(command))) {
    clearStale(second);
    return false;
  }
  try {
    const now = whoHolds(path);
    if (now !== 'nobody' && now?.token === seen?.token) {
      unlinkSync(path);
    }
    sweep(path);
    return true;
  } finally {
    unlinkIfThere(second);
  }
}

/** Removes the drafts of locks whose writers were killed before they could link or remove them. */
function sweep(path: string): void {
  const folder = dirname(path);
  for (const name of readdirSync(folder)) {
    const draft = join(folder, name);
    const owner = draft.startsWith(`${path}.`) ? whoHolds(draft) : null;
    if (owner !== null && owner !== 'nobody' && isGone(owner)) {
      unlinkIfThere(draft);
    }
  }
}

/** A process that was killed while it broke a lock leaves the second lock behind. It is moved aside and looked at again. */
function clearStale(path: string): void {
  const owner = whoHolds(path);
  if (owner === 'nobody' || !isStale(path, owner)) {
    return;
  }
  const aside = `${path}.${Math.floor(Math.random() * 2 ** 48).toString(36)}`;
  try {
    renameSync(path, aside);
    unlinkSync(aside);
  } catch {
    // Another process was quicker.
  }
}

function unlinkIfThere(path: string): void {
  try {
    unlinkSync(path);
  } catch {
    // Another process removed it first.
  }
}

function isLocked(ledger: string, path: string, owner: Owner | null): Problem {
  const who =
    owner === null
      ? 'a program that did not leave its name'
      : `"${owner.command}" (process ${owner.pid} on ${owner.host}, since ${owner.since})`;
  return {
    code: 'locked',
    message: `Cannot write to "${ledger}", it is locked by ${who}`,
    help: `Try again in a moment; if that program is no longer running, delete "${path}"`,
    severity: 'error',
  };
}
