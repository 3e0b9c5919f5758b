import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { hostname } from 'node:os';

/** The owner of a lock: a process that was, and is gone. */
export function deadOwner() {
  const { pid } = spawnSync(process.execPath, ['-e', '']);
  return {
    token: 'gone',
    pid,
    started: '1',
    host: hostname(),
    since: '2025-03-03T08:00:00Z',
    command: 'writer',
  };
}

/** How long it takes to have the lock of a ledger, in ms, where that of a killed process lies there; within this process. */
export async function recoveries(takeLock, ledger, { count, owner, withSecond = false }) {
  const times = [];
  for (let nth = 0; nth < count; nth += 1) {
    writeFileSync(`${ledger}.lock`, JSON.stringify(owner));
    if (withSecond) writeFileSync(`${ledger}.lock.break`, JSON.stringify(owner));
    const fromMs = performance.now();
    const lock = await takeLock(ledger, 'torture', 20_000);
    times.push(performance.now() - fromMs);
    lock.release();
  }
  return times;
}

/** The part of numbers below which a share of them lies; of sorted numbers. */
export function quantile(sorted, share) {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}
