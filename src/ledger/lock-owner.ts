import { readFileSync } from 'node:fs';
import { hostname } from 'node:os';

/** Who holds a lock. */
export interface Owner {
  /** Drawn afresh for every lock, so that a holder can tell its own from a later one. */
  token: string;
  pid: number;
  /** When the process started, in the system's own ticks; null where the system does not say. */
  started: string | null;
  host: string;
  /** RFC 3339. */
  since: string;
  command: string;
}

/** This process as an owner. */
export function ourselves(command: string): Owner {
  return {
    token: `${process.pid.toString(36)}-${Math.floor(Math.random() * 2 ** 48).toString(36)}`,
    pid: process.pid,
    started: startOf(process.pid),
    host: hostname(),
    since: new Date().toISOString(),
    command,
  };
}

/** The process in the name of a file that ends with a token; itself where there is none. */
export function pidIn(path: string): number {
  const token = /\.([0-9a-z]+)-[0-9a-z]+$/.exec(path);
  return token ? Number.parseInt(token[1]!, 36) : process.pid;
}

/** True when the owner was a process of this machine that is gone. Of another machine nothing is known. */
export function isGone(owner: Owner): boolean {
  if (owner.host !== hostname()) {
    return false;
  }
  if (!isRunning(owner.pid)) {
    return true;
  }
  const started = startOf(owner.pid);
  return owner.started !== null && started !== null && started !== owner.started;
}

/** True for a process of this machine that lives. One that was killed and whose parent has not asked about it is dead. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
  return !['Z', 'X'].includes(statOf(pid)[0] ?? '');
}

/** A later process with the same number has another. */
function startOf(pid: number): string | null {
  return statOf(pid)[19] ?? null;
}

/** The fields of /proc/PID/stat after the command's closing bracket, which are the third (the state) and on; see proc(5). */
function statOf(pid: number): string[] {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ');
  } catch {
    return [];
  }
}

/** The owner named in a lock file's text, or null when the text names none. */
export function readOwner(text: string): Owner | null {
  try {
    const owner = JSON.parse(text) as Owner;
    const isProcess = Number.isSafeInteger(owner.pid) && owner.pid > 0;
    return typeof owner.token === 'string' && isProcess && typeof owner.host === 'string' ? owner : null;
  } catch {
    return null;
  }
}
