/** Guided washes that are not over, kept in the user's state folder: whoever closes the terminal can go on. */
import { readdirSync, realpathSync, rmSync, utimesSync } from 'node:fs';
import { isAbsolute, join, resolve } from 'node:path';
import { ageOfKept, keep, readKept } from '../cache-folder.ts';
import { hashOf } from '../checkpoint/ids.ts';
import { type KeptWash, keptText, readKeptWash } from '../timer/kept.ts';

type Environment = Readonly<Record<string, string | undefined>>;

/** By the XDG base directory specification: a relative path does not count. Undefined where no folder is named. */
function stateFolder({ XDG_STATE_HOME: xdg, HOME: home }: Environment): string | undefined {
  if (xdg && isAbsolute(xdg)) return join(xdg, 'bathbook');
  return home && isAbsolute(home) ? join(home, '.local', 'state', 'bathbook') : undefined;
}

/** One ledger by whatever way it is named. */
export function ledgerKey(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return resolve(path);
  }
}

const ENDING = '.timed';
/** A process that lives touches its file that often. */
const BEAT_MS = 5000;
/** One that has not for so long has ended, or its number belongs to another by now. */
const SILENT_MS = 4 * BEAT_MS;

export interface Found {
  path: string;
  kept: KeptWash;
}

/** Those of a ledger. */
export interface AllKept {
  /** That no process runs any more, the latest first. */
  found: Found[];
  /** That a process runs, on another terminal perhaps. */
  running: Found[];
  /** Files that cannot be read. */
  unreadable: string[];
}

export function unfinished(ledger: string, env: Environment): AllKept {
  const folder = stateFolder(env);
  const found: Found[] = [];
  const running: Found[] = [];
  const unreadable: string[] = [];
  for (const name of folder === undefined ? [] : filesOf(folder, ledger)) {
    const path = join(folder!, name);
    const kept = readKeptWash(readKept(path)?.toString('utf8') ?? '');
    if (!kept) unreadable.push(path);
    else if (kept.ledger === ledger) (isRun(path, kept.pid) ? running : found).push({ path, kept });
  }
  found.sort((one, other) => other.kept.run.startedMs - one.kept.run.startedMs);
  return { found, running, unreadable };
}

function filesOf(folder: string, ledger: string): string[] {
  try {
    return readdirSync(folder).filter(
      (name) => name.startsWith(`${nameOf(ledger)}-`) && name.endsWith(ENDING),
    );
  } catch {
    return [];
  }
}

function nameOf(ledger: string): string {
  return hashOf(ledger).toString(16).padStart(8, '0');
}

function isRun(path: string, pid: number): boolean {
  if (Math.abs(ageOfKept(path)) > SILENT_MS) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** The file of one guided wash. */
export class WashFile {
  readonly path: string | undefined;
  private beatMs = 0;

  constructor(ledger: string, startedMs: number, env: Environment, path?: string) {
    const folder = stateFolder(env);
    const name = `${nameOf(ledger)}-${startedMs.toString(36)}-${process.pid}${ENDING}`;
    this.path = path ?? (folder === undefined ? undefined : join(folder, name));
  }

  /** @returns whether it is kept */
  write(kept: KeptWash): boolean {
    if (this.path === undefined) return false;
    const bytes = Buffer.from(keptText(kept), 'utf8');
    keep(this.path, [bytes]);
    return readKept(this.path)?.equals(bytes) === true;
  }

  /** Tells other processes that this one lives. */
  beat(nowMs: number): void {
    if (this.path === undefined || Math.abs(nowMs - this.beatMs) < BEAT_MS) return;
    this.beatMs = nowMs;
    try {
      utimesSync(this.path, new Date(), new Date());
    } catch {
      // Somebody took it away: there is nothing to tell.
    }
  }

  remove(): void {
    if (this.path !== undefined) rmSync(this.path, { force: true });
  }
}
