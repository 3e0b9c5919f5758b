/** The ledger as `doctor` sees it: counts and places, and nothing that was written into it. */
import { accessSync, constants, lstatSync, realpathSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { refusalProblem } from '../bath/refusal.ts';
import { openShop } from '../bath/shop.ts';
import { readLedgerAt } from '../ledger/append-read.ts';
import { gather } from '../ledger/check.ts';
import { lookAtLock } from '../ledger/lock.ts';
import type { Problem } from '../ledger/problem.ts';
import type { LedgerFile } from '../ledger/read.ts';
import type { Settled } from '../ledger/settle.ts';
import { statusOf } from '../outlook/status.ts';
import type { DoctorLedger, DoctorLock } from '../render/doctor.ts';
import { catalogue } from '../substance/catalogue.ts';
import { rfc3339 } from './clock.ts';

/** What is known of the file besides what `doctor` tells. */
export interface LookedAt {
  ledger: DoctorLedger;
  zone: string | undefined;
  lastMs: number | null;
  lock: DoctorLock | null;
}

/** @param clock - asked once the zone of the shop is known */
export async function lookAtLedger(
  found: { path: string; why: string },
  clock: (zone: string | undefined) => Promise<number>,
): Promise<LookedAt> {
  const read = await readLedgerAt(found.path, catalogue);
  const nothing: DoctorLedger = {
    path: found.path,
    why: found.why,
    bytes: null,
    newline: null,
    ends: null,
    baths: null,
    events: null,
    first: null,
    last: null,
    counting: 0,
    voided: 0,
    later: 0,
    by_hand: 0,
    sound: false,
    problems: 'code' in read ? [placeOf(read)] : [],
    more_problems: 0,
    permissions: null,
  };
  if ('code' in read) {
    await clock(undefined);
    return { ledger: nothing, zone: undefined, lastMs: null, lock: lockOf(found.path) };
  }
  const { file, bytes } = read;
  const zone = file.header?.shop.timezone;
  const clockMs = await clock(zone);
  const { problems, moreProblems, settled } = await gather(file, { clockMs, catalogue });
  const all = [...problems, ...impossible(file, problems, settled, clockMs)];
  const times = file.events.map(({ atMs }) => atMs).sort((one, other) => one - other);
  const lastMs = times.at(-1) ?? null;
  return {
    ledger: {
      ...nothing,
      bytes: bytes.length,
      newline: file.newline === '\n' ? 'lf' : 'crlf',
      ends: file.tail,
      baths: file.header ? Object.keys(file.header.baths).length : null,
      events: kindsOf(file),
      first: times[0] === undefined ? null : rfc3339(times[0]),
      last: lastMs === null ? null : rfc3339(lastMs),
      counting: settled.entries.length,
      voided: settled.voided.size,
      later: settled.later,
      by_hand: file.slowEvents,
      sound: file.header !== null && all.every(({ severity }) => severity !== 'error'),
      problems: all.slice(0, MOST_PLACES).map(placeOf),
      more_problems: moreProblems + Math.max(0, all.length - MOST_PLACES),
      permissions: permissionsOf(found.path),
    },
    zone,
    lastMs,
    lock: lockOf(found.path),
  };
}

const MOST_PLACES = 5;

/** A problem without its words, since these quote the ledger. */
function placeOf({ code, line, severity }: Problem): DoctorLedger['problems'][number] {
  return { code, severity, line: line ?? null };
}

/** What is written soundly and cannot have happened. */
function impossible(
  file: LedgerFile,
  problems: readonly Problem[],
  settled: Settled,
  clockMs: number,
): Problem[] {
  if (!file.header || problems.some(({ severity }) => severity === 'error')) return [];
  const shop = openShop(file.header);
  return statusOf(shop, settled.entries, clockMs).replayed.refused.map((one) => refusalProblem(one, shop));
}

function kindsOf({ events }: LedgerFile): Record<string, number> {
  const kinds: Record<string, number> = {};
  for (const { event } of events) kinds[event.what] = (kinds[event.what] ?? 0) + 1;
  return Object.fromEntries(Object.entries(kinds).sort(([, one], [, other]) => other - one));
}

const OTHERS_MAY_WRITE = 0o022;
const ANYBODY_MAY_WRITE = 0o002;
const STICKY = 0o1000;

function permissionsOf(path: string): DoctorLedger['permissions'] {
  const { mode, uid } = statSync(path);
  const folder = statSync(dirname(realpathSync(path))).mode;
  return {
    mode: (mode & 0o777).toString(8).padStart(4, '0'),
    others_may_write: process.platform !== 'win32' && (mode & OTHERS_MAY_WRITE) !== 0,
    anybody_may_replace:
      process.platform !== 'win32' && (folder & ANYBODY_MAY_WRITE) !== 0 && (folder & STICKY) === 0,
    own: process.getuid === undefined || uid === process.getuid(),
    may_write: may(path, constants.W_OK) && may(dirname(realpathSync(path)), constants.W_OK),
    is_link: lstatSync(path).isSymbolicLink(),
  };
}

function may(path: string, how: number): boolean {
  try {
    accessSync(path, how);
    return true;
  } catch {
    return false;
  }
}

/** The lock stands beside the file that a link leads to. */
function lockOf(path: string): DoctorLock | null {
  const lock = lookAtLock(realOf(path));
  if (!lock) return null;
  const { owner, isStale } = lock;
  return { process: owner?.pid ?? null, since: owner?.since ?? null, stale: isStale };
}

function realOf(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}
