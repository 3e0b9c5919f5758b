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

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Field 22 of /proc/PID/stat, counted after the command's closing bracket; see proc(5). A later process with the same number has another. */
function startOf(pid: number): string | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? null;
  } catch {
    return null;
  }
}

/** The owner named in a lock file's text, or null when the text names none. */
export function readOwner(text: string): Owner | null {
  try {
    const owner = JSON.parse(text) as Owner;
    return typeof owner.token === 'string' && typeof owner.pid === 'number' && typeof owner.host === 'string'
      ? owner
      : null;
  } catch {
    return null;
  }
}
