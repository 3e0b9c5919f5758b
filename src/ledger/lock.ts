import {
  constants,
  linkSync,
  lstatSync,
  openSync,
  readFileSync,
  renameSync,
  statSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { closeAnyway } from './append-close.ts';
import { killPoint } from './append-kill-point.ts';
import { beside, sweepDrafts, unlinkIfThere } from './append-leftovers.ts';
import { diskProblem, knowsNoLinks } from './append-problem.ts';
import { isGone, isRunning, type Owner, ourselves, pidIn, readOwner } from './lock-owner.ts';
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
/** Others may see who holds the lock, and nobody else may say so. */
const MODE = 0o644;

/** Who a lock file names: nobody where there is none; hidden where it cannot be read or is no file. */
type Holder = Owner | 'nobody' | 'nameless' | 'hidden';

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
  const until = nowMs() + patienceMs;
  for (let wait = FIRST_WAIT_MS; ; wait = Math.min(wait * 2, LONGEST_WAIT_MS)) {
    let holder: Holder;
    let isFree: boolean;
    try {
      if (place(path, owner)) {
        sweep(path);
        sweepDrafts(ledger);
        return held(path, owner);
      }
      holder = whoHolds(path);
      isFree = holder === 'nobody' || (isStale(path, holder) && breakLock(path, command));
    } catch (error) {
      return diskProblem('lock', ledger, error);
    }
    if (nowMs() > until) {
      return isLocked(ledger, path, holder);
    }
    if (!isFree) {
      await new Promise((resolve) => setTimeout(resolve, wait * (0.5 + Math.random() / 2)));
    }
  }
}

/** The lock of a ledger as it is, for somebody who only looks; null where there is none. */
export function lookAtLock(ledger: string): { owner: Owner | null; isStale: boolean } | null {
  const path = `${ledger}.lock`;
  const holder = whoHolds(path);
  if (holder === 'nobody') {
    return null;
  }
  return { owner: typeof holder === 'string' ? null : holder, isStale: isStale(path, holder) };
}

/** A clock that nobody sets. That of `performance` takes Node two milliseconds to load. */
function nowMs(): number {
  return Number(process.hrtime.bigint()) / 1e6;
}

/** Puts the lock in place; false when there is one already. */
function place(path: string, owner: Owner): boolean {
  const draft = `${path}.${owner.token}`;
  try {
    KILL_POINT: killPoint('lock draft empty', () => writeFileSync(draft, ''));
    writeFileSync(draft, JSON.stringify(owner), { flag: 'wx', mode: MODE });
    KILL_POINT: killPoint('lock draft written');
    return placeBy(
      () => linkSync(draft, path),
      ['EEXIST', 'ENOENT'],
      () => isOf(owner, whoHolds(path)),
    );
  } catch (error) {
    if (knowsNoLinks(error)) {
      return placeBy(
        () => writeLock(path, owner),
        ['EEXIST'],
        () => false,
      );
    }
    throw error;
  } finally {
    KILL_POINT: killPoint('lock linked');
    unlinkIfThere(draft);
    KILL_POINT: killPoint('lock draft unlinked');
  }
}

/** False when the name is taken, or when another process took the draft for one left behind: a second try is as good as the first. */
function placeBy(make: () => void, mayBe: string[], isPlaced: () => boolean): boolean {
  try {
    make();
    return true;
  } catch (error) {
    // A disk of another machine may have made it, and said so to nobody.
    if (isPlaced()) {
      return true;
    }
    if (mayBe.includes((error as NodeJS.ErrnoException).code ?? '')) {
      return false;
    }
    throw error;
  }
}

/** For disks that know no links: for a moment this lock names nobody. */
function writeLock(path: string, owner: Owner): void {
  const file = openSync(path, 'wx', MODE);
  try {
    writeFileSync(file, JSON.stringify(owner));
  } catch (error) {
    unlinkIfThere(path);
    throw error;
  } finally {
    closeAnyway(file);
  }
}

function held(path: string, owner: Owner): Lock {
  const place = placeOf(path);
  return {
    isOurs: () => isOf(owner, whoHolds(path)),
    release: () => {
      const now = whoHolds(path);
      // Where no more files can be opened, or the disk fails, a lock can often be removed that cannot be read.
      if (typeof now === 'string' ? place !== undefined && placeOf(path) === place : isOf(owner, now)) {
        unlinkIfThere(path);
      }
    },
  };
}

function isOf(owner: Owner, holder: Holder): boolean {
  return typeof holder === 'object' && holder.token === owner.token;
}

/** Where on the disks a file is; undefined when the system does not say. */
function placeOf(path: string): string | undefined {
  try {
    const { dev, ino } = lstatSync(path, { bigint: true });
    return `${dev}:${ino}`;
  } catch {
    return undefined;
  }
}

/** A link or a pipe under the lock's name is nobody's lock, and must neither be followed nor waited for. */
function whoHolds(path: string): Holder {
  const { O_RDONLY, O_NOFOLLOW, O_NONBLOCK } = constants;
  let file: number | undefined;
  try {
    file = openSync(path, O_RDONLY | (O_NOFOLLOW ?? 0) | (O_NONBLOCK ?? 0));
    return readOwner(readFileSync(file, 'utf8')) ?? 'nameless';
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'nobody' : 'hidden';
  } finally {
    if (file !== undefined) {
      closeAnyway(file);
    }
  }
}

function isStale(path: string, holder: Holder): boolean {
  if (holder === 'nobody' || holder === 'hidden') {
    return false;
  }
  return holder === 'nameless' ? ageMs(path) > NAMELESS_MS : isGone(holder);
}

function ageMs(path: string): number {
  return Date.now() - (statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? Number.POSITIVE_INFINITY);
}

/**
 * Removes the lock of an owner that is gone; true when the lock can be had. A second lock lets only one process do it at a time:
 * without it, two that saw the same stale lock could remove it and then the fresh lock of whoever came first.
 */
function breakLock(path: string, command: string): boolean {
  const second = secondOf(path);
  const owner = ourselves(command);
  if (!place(second, owner)) {
    clearStale(second);
    return false;
  }
  KILL_POINT: killPoint('second lock placed');
  try {
    if (isStale(path, whoHolds(path))) {
      unlinkSync(path);
    }
    KILL_POINT: killPoint('stale lock removed');
    return true;
  } catch {
    // It is another user's, in a folder where only they may remove it.
    return false;
  } finally {
    held(second, owner).release();
    KILL_POINT: killPoint('second lock removed');
  }
}

function secondOf(path: string): string {
  return `${path}.break`;
}

/** Removes what killed processes left behind: drafts of locks, and second locks. */
function sweep(path: string): void {
  const second = secondOf(path);
  for (const left of beside(path, '.')) {
    if (left === second) {
      clearStale(second);
    } else if (isLeft(left)) {
      unlinkIfThere(left);
    }
  }
}

/** A draft that is still empty names its process by its own name. */
function isLeft(draft: string): boolean {
  const holder = whoHolds(draft);
  return isStale(draft, holder) || (holder === 'nameless' && !isRunning(pidIn(draft)));
}

/**
 * Removes the second lock of a process that was killed while it broke a lock. It is moved aside and looked at again, and put back
 * if by then it was the fresh one of another process.
 */
function clearStale(path: string): void {
  if (!isStale(path, whoHolds(path))) {
    return;
  }
  const aside = `${path}.${Math.floor(Math.random() * 2 ** 48).toString(36)}`;
  try {
    renameSync(path, aside);
    if (!isStale(aside, whoHolds(aside))) {
      putBack(aside, path);
    }
  } catch {
    // Another process was quicker.
  } finally {
    unlinkIfThere(aside);
  }
}

/** Under its name again, unless that is taken by now. */
function putBack(aside: string, path: string): void {
  try {
    linkSync(aside, path);
  } catch (error) {
    if (!knowsNoLinks(error)) {
      throw error;
    }
    writeFileSync(path, readFileSync(aside), { flag: 'wx', mode: MODE });
  }
}

function isLocked(ledger: string, path: string, holder: Holder): Problem {
  const who =
    typeof holder === 'string'
      ? 'a program that did not leave its name'
      : `"${holder.command}" (process ${holder.pid} on ${holder.host}, since ${holder.since})`;
  return {
    code: 'locked',
    message: `Cannot write to "${ledger}", it is locked by ${who}`,
    help: `Try again in a moment; if that program is no longer running, delete "${path}"`,
    severity: 'error',
  };
}
