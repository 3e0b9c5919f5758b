/** Who holds a lock, in words and in files; how long it is waited for; what is swept. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Lock, lookAtLock, takeLock } from '../../src/ledger/lock.ts';
import { isGone, isRunning, type Owner, ourselves, pidIn, readOwner } from '../../src/ledger/lock-owner.ts';
import type { Problem } from '../../src/ledger/problem.ts';

let folder = '';
let ledger = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bathbook-lock-ways-'));
  ledger = join(folder, 'bathbook.yaml');
});
afterEach(() => {
  vi.restoreAllMocks();
  vi.useRealTimers();
  rmSync(folder, { recursive: true, force: true });
});

const DEAD = 2 ** 22 + 1;
const GONE: Owner = {
  token: 'gone-1',
  pid: DEAD,
  started: '1',
  host: hostname(),
  since: '2026-11-20T08:00:00Z',
  command: 'bathbook wash',
};
const leave = (end: string, owner: object) => writeFileSync(`${ledger}${end}`, JSON.stringify(owner));
const names = () =>
  readdirSync(folder)
    .map((name) => name.replace('bathbook.yaml', ''))
    .sort();
const isLinux = process.platform === 'linux';

async function problem(patienceMs = 30): Promise<Problem> {
  const taken = await takeLock(ledger, 'test', patienceMs);
  if (!('code' in taken)) throw new Error('taken');
  return taken;
}

describe('who is told to hold it', () => {
  it('is the command, its process, its machine and since when', async () => {
    leave('.lock', { ...GONE, host: 'upstairs', pid: 77 });
    expect(await problem()).toEqual({
      code: 'locked',
      message: `Cannot write to "${ledger}", it is locked by "bathbook wash" (process 77 on upstairs, since 2026-11-20T08:00:00Z)`,
      help: `Try again in a moment; if that program is no longer running, delete "${ledger}.lock"`,
      severity: 'error',
    });
  });

  it('is nobody known where it names none', async () => {
    writeFileSync(`${ledger}.lock`, '{}');
    expect((await problem()).message).toBe(
      `Cannot write to "${ledger}", it is locked by a program that did not leave its name`,
    );
  });
});

/** A clock that moves only when somebody waits; how long each wait was. */
function stillClock(): number[] {
  const waits: number[] = [];
  let now = 0;
  vi.spyOn(process.hrtime, 'bigint').mockImplementation(() => BigInt(Math.round(now * 1e6)));
  vi.spyOn(globalThis, 'setTimeout').mockImplementation(((done: () => void, ms = 0) => {
    if (waits.push(ms) > 2000) throw new Error('asked without an end');
    now += ms;
    queueMicrotask(done);
  }) as typeof setTimeout);
  return waits;
}

describe('it is waited for', () => {
  it('two seconds and hardly longer where nothing was said, and no time where none was given', async () => {
    leave('.lock', ourselves('other'));
    for (const [patienceMs, least, most] of [
      [undefined, 2000, 2025],
      [300, 300, 325],
      [0, 0, 1],
    ] as const) {
      const waits = stillClock();
      expect(await takeLock(ledger, 'test', patienceMs)).toMatchObject({ code: 'locked' });
      const whole = waits.reduce((sum, wait) => sum + wait, 0);
      expect(whole).toBeGreaterThanOrEqual(least);
      expect(whole).toBeLessThanOrEqual(most);
      vi.restoreAllMocks();
    }
  });

  it('by asking again soon, then ever later, and then some forty to eighty times a second', async () => {
    leave('.lock', ourselves('other'));
    const waits = stillClock();
    await problem(2000);
    expect(waits[0]).toBeLessThanOrEqual(1);
    expect(waits[1]! + waits[2]!).toBeLessThanOrEqual(6);
    expect(Math.max(...waits)).toBeLessThanOrEqual(25);
    expect(Math.min(...waits.slice(8))).toBeGreaterThanOrEqual(12.5);
    expect(new Set(waits).size).toBeGreaterThan(waits.length / 2);
  });

  it('as long as was said, and not much less', async () => {
    leave('.lock', ourselves('other'));
    const begun = process.hrtime.bigint();
    await problem(120);
    expect(Number(process.hrtime.bigint() - begun) / 1e6).toBeGreaterThan(110);
  });

  it('two seconds where nothing was said', async () => {
    leave('.lock', ourselves('other'));
    setTimeout(() => rmSync(`${ledger}.lock`), 150);
    const lock = (await takeLock(ledger, 'test')) as Lock;
    expect(lock.isOurs()).toBe(true);
    lock.release();
  });

  it('not at all where it is free', async () => {
    const lock = (await takeLock(ledger, 'test', 0)) as Lock;
    expect(names()).toEqual(['.lock']);
    expect((statSync(`${ledger}.lock`).mode & 0o022).toString(8)).toBe('0');
    lock.release();
    expect(names()).toEqual([]);
  });

  it('by two of one process in turn', async () => {
    const first = (await takeLock(ledger, 'one')) as Lock;
    const second = takeLock(ledger, 'two');
    await new Promise((done) => setTimeout(done, 30));
    expect(JSON.parse(readFileSync(`${ledger}.lock`, 'utf8')).command).toBe('one');
    first.release();
    const lock = (await second) as Lock;
    expect([first.isOurs(), lock.isOurs()]).toEqual([false, true]);
    first.release();
    expect(names()).toEqual(['.lock']);
    lock.release();
  });
});

describe('what is swept', () => {
  const old = (end: string, seconds: number) => {
    const then = Date.now() / 1000 - seconds;
    utimesSync(`${ledger}${end}`, then, then);
  };
  async function swept(): Promise<string[]> {
    const lock = (await takeLock(ledger, 'test', 500)) as Lock;
    lock.release();
    return names();
  }

  it('is what names a dead owner, or has a dead process in its name', async () => {
    leave('.lock.abc-1', GONE);
    writeFileSync(`${ledger}.lock.${DEAD.toString(36)}-2`, '');
    leave('.lock.break', GONE);
    expect(await swept()).toEqual([]);
  });

  it('is not what names a living one, nor what names nobody and is fresh', async () => {
    leave('.lock.abc-1', ourselves('other'));
    writeFileSync(`${ledger}.lock.odd`, '');
    writeFileSync(`${ledger}.lock.${process.pid.toString(36)}-2`, '');
    leave('.lock.break', ourselves('other'));
    writeFileSync(`${ledger}.lockette`, 'x');
    expect(await swept()).toHaveLength(5);
  });

  it('is not what only begins with the same letters, however old', async () => {
    leave('.lockette', GONE);
    writeFileSync(`${ledger}.lock-notes`, '');
    old('.lock-notes', 3600);
    expect(await swept()).toEqual(['.lock-notes', '.lockette']);
  });

  it('is what has named nobody for ten seconds', async () => {
    writeFileSync(`${ledger}.lock.odd`, '');
    old('.lock.odd', 9);
    expect(await swept()).toEqual(['.lock.odd']);
    old('.lock.odd', 11);
    expect(await swept()).toEqual([]);
  });
});

describe('an owner', () => {
  it('is this process, with a name of its own each time', () => {
    const [one, other] = [ourselves('a'), ourselves('b')];
    expect(one).toMatchObject({
      pid: process.pid,
      host: hostname(),
      command: 'a',
      started: isLinux ? expect.stringMatching(/^\d+$/) : null,
    });
    expect(one.token).toMatch(new RegExp(`^${process.pid.toString(36)}-[0-9a-z]{5,}$`));
    expect(one.token).not.toBe(other.token);
    expect(Math.abs(Date.parse(one.since) - Date.now())).toBeLessThan(10_000);
  });

  it('is read from its text, or is none', () => {
    expect(readOwner(JSON.stringify(GONE))).toEqual(GONE);
    const { token: _, ...nameless } = GONE;
    const bad = [
      '', '{', 'null', '[]', '1', '"a"', '{}', JSON.stringify(nameless), JSON.stringify({ ...GONE, pid: 0 }), JSON.stringify({ ...GONE, pid: -1 }),
      JSON.stringify({ ...GONE, pid: 1.5 }), JSON.stringify({ ...GONE, pid: '7' }), JSON.stringify({ ...GONE, host: 7 }), JSON.stringify({ ...GONE, token: 7 }),
    ]; // biome-ignore format: a list
    expect(bad.map(readOwner)).toEqual(bad.map(() => null));
  });

  it('is gone when its number is free, or belongs to a later process; of another machine nothing is known', () => {
    expect(isGone(GONE)).toBe(true);
    expect(isGone({ ...GONE, host: 'upstairs' })).toBe(false);
    expect(isGone(ourselves('a'))).toBe(false);
    expect(isGone({ ...ourselves('a'), started: null })).toBe(false);
    expect(isGone({ ...ourselves('a'), started: '1' })).toBe(isLinux);
  });

  it('that belongs to somebody else runs all the same', () => {
    const kill = vi.spyOn(process, 'kill');
    const saying = (code: string) => () => {
      throw Object.assign(new Error(code), { code });
    };
    kill.mockImplementation(saying('EPERM'));
    expect([isRunning(DEAD), isGone({ ...GONE, started: null })]).toEqual([true, false]);
    kill.mockImplementation(saying('ESRCH'));
    expect([isRunning(process.pid), isGone(ourselves('a'))]).toEqual([false, true]);
    kill.mockRestore();
    expect([isRunning(process.pid), isRunning(1), isRunning(DEAD)]).toEqual([true, true, false]);
  });

  it('is in the name of a draft', () => {
    expect(pidIn('/a/b.yaml.lock.rs-1f')).toBe(Number.parseInt('rs', 36));
    expect(pidIn('/a/b.yaml.lock.break.z-0')).toBe(35);
    for (const odd of [
      '/a/b.yaml.lock',
      '/a/b.lock.rs',
      '/a/b.lock.RS-1',
      '/a/b.lock.rs-1/c',
      '/a/b.lock.rs-',
    ])
      expect(pidIn(odd)).toBe(process.pid);
  });
});

it('a lock that names nobody is honoured for ten seconds to the millisecond', () => {
  const then = 1_800_000_000;
  writeFileSync(`${ledger}.lock`, '');
  utimesSync(`${ledger}.lock`, then, then);
  vi.useFakeTimers({ toFake: ['Date'] });
  const isStale = [0, 9999, 10_000, 10_001].map((age) => {
    vi.setSystemTime(then * 1000 + age);
    return lookAtLock(ledger)?.isStale;
  });
  expect(isStale).toEqual([false, false, false, true]);
});
