/** Locks that killed processes, other users and hostile hands leave behind. */
import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { isMainThread } from 'node:worker_threads';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Lock, takeLock } from '../../src/ledger/lock.ts';
import { isGone, type Owner, ourselves } from '../../src/ledger/lock-owner.ts';
import type { Problem } from '../../src/ledger/problem.ts';

let folder = '';
let ledger = '';
const children: ChildProcess[] = [];

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bathbook-lock-'));
  ledger = join(folder, 'bathbook.yaml');
});

afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL');
  chmodSync(folder, 0o755);
  rmSync(folder, { recursive: true, force: true });
});

const isRoot = process.getuid?.() === 0;
const isLinux = process.platform === 'linux';
const GONE: Owner = {
  token: 'gone',
  pid: 2 ** 22 + 1,
  started: '1',
  host: hostname(),
  since: '2026-11-20T08:00:00Z',
  command: 'bathbook wash',
};
const take = (patienceMs = 60): Promise<Lock | Problem> => takeLock(ledger, 'test', patienceMs);
const leave = (end: string, owner: object): void => writeFileSync(`${ledger}${end}`, JSON.stringify(owner));

/** Takes it and gives it back; what lies in the folder then. */
async function taken(): Promise<string[]> {
  const lock = await take(2000);
  if ('code' in lock) throw new Error(lock.message);
  expect(lock.isOurs()).toBe(true);
  lock.release();
  return readdirSync(folder);
}

/** A child of a process that never asks about it, killed: dead, and still in the table of processes. */
async function zombie(): Promise<number> {
  const parent = spawn('sh', ['-c', 'sleep 600 & echo $!; exec sleep 600'], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  children.push(parent);
  const pid = await new Promise<number>((resolve) =>
    parent.stdout.once('data', (data) => resolve(Number(data))),
  );
  // The shell would ask about it; what it becomes does not.
  while (readFileSync(`/proc/${parent.pid}/comm`, 'utf8') !== 'sleep\n') {
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  process.kill(pid, 'SIGKILL');
  while (!/^State:\s+Z/m.test(readFileSync(`/proc/${pid}/status`, 'utf8'))) {
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  return pid;
}

describe('a process that is gone', () => {
  it('is one without a number in use, or that began at another time', () => {
    expect(isGone(GONE)).toBe(true);
    expect(isGone(ourselves('test'))).toBe(false);
    expect(isGone({ ...ourselves('test'), started: '1' })).toBe(isLinux);
    expect(isGone({ ...GONE, host: 'upstairs' })).toBe(false);
  });

  it.skipIf(!isLinux)('is one that was killed and whose parent has not asked about it', async () => {
    const pid = await zombie();
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    const started = stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19]!;
    expect(isGone({ ...GONE, pid, started })).toBe(true);
    leave('.lock', { ...GONE, pid, started });
    expect(await taken()).toEqual([]);
  });
});

describe('what killed processes leave', () => {
  it('is swept out by the next who takes the lock', async () => {
    const pid = GONE.pid.toString(36);
    leave(`.lock.${pid}-abc`, GONE);
    leave(`.lock.break.${pid}-abc`, GONE);
    leave('.lock.break', GONE);
    writeFileSync(`${ledger}.lock.${pid}-def`, '');
    writeFileSync(`${ledger}.new-${pid}-ghi`, 'format: bath');
    expect(await taken()).toEqual([]);
  });

  it('stays when its owner lives, or is of another machine', async () => {
    const own = process.pid.toString(36);
    leave(`.lock.${own}-abc`, ourselves('other'));
    leave('.lock.zz-abc', { ...GONE, host: 'upstairs' });
    writeFileSync(`${ledger}.lock.${own}-def`, '');
    writeFileSync(`${ledger}.new-${own}-ghi`, 'format: bath');
    expect(await taken()).toHaveLength(4);
  });

  it('a lock that names nobody is honoured for ten seconds', async () => {
    writeFileSync(`${ledger}.lock`, '');
    expect(await take()).toMatchObject({ code: 'locked' });
    const before = Date.now() / 1000 - 11;
    utimesSync(`${ledger}.lock`, before, before);
    expect(await taken()).toEqual([]);
  });
});

describe('what lies under the name of the lock and is none', () => {
  it.each([
    ['a link that leads nowhere', () => symlinkSync(join(folder, 'nowhere'), `${ledger}.lock`)],
    [
      'a link to a stale lock',
      () => {
        leave('.elsewhere', GONE);
        symlinkSync(`${ledger}.elsewhere`, `${ledger}.lock`);
      },
    ],
    ['a folder', () => mkdirSync(`${ledger}.lock`)],
    ['a process that cannot be', () => leave('.lock', { ...GONE, pid: -1 })],
    ['no object', () => writeFileSync(`${ledger}.lock`, 'null')],
  ])('is waited for, and told of: %s', async (_, put) => {
    put();
    const problem = await take();
    expect(problem).toMatchObject({ code: 'locked' });
    expect((problem as Problem).help).toContain(`delete "${ledger}.lock"`);
  });

  it.skipIf(spawnSync('mkfifo', ['--version']).status !== 0)('a pipe, which would never answer', async () => {
    execFileSync('mkfifo', [`${ledger}.lock`]);
    expect(await take()).toMatchObject({ code: 'locked' });
  });

  it('no link is followed where drafts go', async () => {
    writeFileSync(join(folder, 'victim'), 'precious');
    symlinkSync(join(folder, 'victim'), `${ledger}.lock.break`);
    leave('.lock', GONE);
    expect(await take()).toMatchObject({ code: 'locked' });
    expect(readFileSync(join(folder, 'victim'), 'utf8')).toBe('precious');
  });

  it.skipIf(isRoot)('a lock of a user who lets nobody read it is not broken, however old', async () => {
    leave('.lock', GONE);
    chmodSync(`${ledger}.lock`, 0o000);
    const before = Date.now() / 1000 - 3600;
    utimesSync(`${ledger}.lock`, before, before);
    expect(await take()).toMatchObject({ code: 'locked' });
    expect(existsSync(`${ledger}.lock`)).toBe(true);
  });
});

// The mask belongs to the whole process, and a thread of it may not set it.
it.runIf(isMainThread)(
  'nobody else may write to the lock, whatever files are usually made like',
  async () => {
    const usual = process.umask(0);
    try {
      const lock = (await take()) as Lock;
      expect((statSync(`${ledger}.lock`).mode & 0o777).toString(8)).toBe('644');
      lock.release();
    } finally {
      process.umask(usual);
    }
  },
);

it('a lock that was given to another is not given back by us', async () => {
  const lock = (await take()) as Lock;
  leave('.lock', ourselves('other'));
  lock.release();
  expect(existsSync(`${ledger}.lock`)).toBe(true);
});
