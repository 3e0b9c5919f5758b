/** The lock on disks that know no links, say odd things of them, or fail. */
import {
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Lock, lookAtLock, takeLock } from '../../src/ledger/lock.ts';
import { isGone, isRunning, type Owner, ourselves } from '../../src/ledger/lock-owner.ts';
import type { Problem } from '../../src/ledger/problem.ts';

/**
 * What calls say by their names: before they do anything, or after it is done; how often; what happens right before one;
 * and what one gives back instead, where that is something.
 */
interface Saying {
  code: string;
  after?: boolean;
  times?: number;
  of?: RegExp;
}
const disk = vi.hoisted(() => ({
  says: {} as Record<string, Saying>,
  before: {} as Record<string, (...args: unknown[]) => void>,
  instead: {} as Record<string, (...args: unknown[]) => unknown>,
  open: new Set<number>(),
}));

vi.mock('node:fs', async (original) => {
  const real = await original<Record<string, (...args: unknown[]) => unknown>>();
  const names = [
    'linkSync',
    'openSync',
    'closeSync',
    'writeFileSync',
    'unlinkSync',
    'renameSync',
    'lstatSync',
    'readFileSync',
  ];
  const watch = (name: string) => {
    const call = (...args: unknown[]) => {
      disk.before[name]?.(...args);
      const saying = disk.says[name];
      const applies =
        saying &&
        (saying.times ?? 1) > 0 &&
        (saying.of ?? /./).test(String(args.at(name === 'linkSync' ? 1 : 0)));
      if (applies) saying.times = (saying.times ?? 1) - 1;
      const fail = () =>
        Object.assign(new Error(`${saying!.code}: it failed, ${name}`), { code: saying!.code, errno: -1 });
      if (applies && !saying.after) throw fail();
      const result = disk.instead[name]?.(...args) ?? real[name]!(...args);
      if (name === 'openSync') disk.open.add(result as number);
      if (name === 'closeSync') disk.open.delete(args[0] as number);
      if (applies) throw fail();
      return result;
    };
    return [name, call] as const;
  };
  return { ...real, ...Object.fromEntries(names.map(watch)) };
});

let folder = '';
let ledger = '';
let path = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bathbook-odd-lock-'));
  ledger = join(folder, 'bathbook.yaml');
  path = `${ledger}.lock`;
});
afterEach(() => {
  Object.assign(disk, { says: {}, before: {}, instead: {} });
  vi.restoreAllMocks();
  expect([...disk.open]).toEqual([]);
  rmSync(folder, { recursive: true, force: true });
});

const GONE: Owner = {
  token: 'gone-1',
  pid: 2 ** 22 + 1,
  started: '1',
  host: hostname(),
  since: '2026-11-20T08:00:00Z',
  command: 'bathbook wash',
};
const take = (patienceMs = 40): Promise<Lock | Problem> => takeLock(ledger, 'test', patienceMs);
const names = () => readdirSync(folder).map((name) => name.replace('bathbook.yaml', ''));
const leave = (end: string, owner: object) => writeFileSync(`${ledger}${end}`, JSON.stringify(owner));

function lockOf(taken: Lock | Problem): Lock {
  if ('code' in taken) throw new Error(taken.message);
  return taken;
}

describe.each(['EPERM', 'ENOSYS', 'ENOTSUP', 'EOPNOTSUPP'])('where there are no links (%s)', (code) => {
  beforeEach(() => {
    disk.says = { linkSync: { code, times: 99 } };
  });

  it('the lock is written under its own name, and names its owner', async () => {
    const lock = lockOf(await take());
    expect(names()).toEqual(['.lock']);
    expect(JSON.parse(readFileSync(path, 'utf8'))).toMatchObject({
      pid: process.pid,
      command: 'test',
      host: hostname(),
    });
    expect(lock.isOurs()).toBe(true);
    lock.release();
    expect(names()).toEqual([]);
  });

  it('it is waited for all the same, and a stale one broken', async () => {
    leave('.lock', ourselves('other'));
    expect(await take()).toMatchObject({ code: 'locked' });
    leave('.lock', GONE);
    lockOf(await take(2000)).release();
    expect(names()).toEqual([]);
  });
});

it('where there are no links, the second lock of one who lives stays where it is', async () => {
  disk.says = { linkSync: { code: 'EPERM', times: 999 } };
  leave('.lock', GONE);
  const living = ourselves('breaker');
  leave('.lock.break', living);
  expect(await take()).toMatchObject({ code: 'locked' });
  expect(JSON.parse(readFileSync(`${path}.break`, 'utf8'))).toEqual(living);
});

it('where there are no links, a lock that cannot be written is taken away again', async () => {
  disk.says = { linkSync: { code: 'EPERM', times: 9 } };
  let writes = 0;
  disk.before = {
    writeFileSync: () => {
      writes += 1;
      if (writes === 2) disk.says.writeFileSync = { code: 'ENOSPC' };
    },
  };
  expect(await take()).toMatchObject({ code: 'write-failed', message: expect.stringContaining(ledger) });
  expect(names()).toEqual([]);
});

describe('a link that the disk says failed', () => {
  it.each(['EEXIST', 'EIO', 'EPERM'])('and that was made is a lock (%s)', async (code) => {
    disk.says = { linkSync: { code, after: true } };
    const lock = lockOf(await take());
    expect(lock.isOurs()).toBe(true);
    expect(names()).toEqual(['.lock']);
    lock.release();
    expect(names()).toEqual([]);
  });

  it.each(['EEXIST', 'ENOENT'])('and that may be had the next time is tried again (%s)', async (code) => {
    disk.says = { linkSync: { code } };
    lockOf(await take(2000)).release();
    expect(names()).toEqual([]);
  });

  it.each(['EIO', 'EACCES', 'EMLINK'])('for another reason is told (%s)', async (code) => {
    disk.says = { linkSync: { code } };
    expect(await take()).toMatchObject({
      severity: 'error',
      message: expect.stringContaining(`"${ledger}"`),
    });
    expect(names()).toEqual([]);
  });
});

it('the lock is whole before it is there, and its draft goes when it is', async () => {
  const seen: string[][] = [];
  disk.before = {
    linkSync: (draft) => {
      seen.push(names(), [JSON.parse(readFileSync(String(draft), 'utf8')).command]);
    },
    unlinkSync: () => seen.push(names().sort()),
  };
  const lock = lockOf(await take());
  const draft = expect.stringMatching(/^\.lock\.[0-9a-z]+-[0-9a-z]+$/);
  expect(seen).toEqual([[draft], ['test'], ['.lock', draft]]);
  expect(names()).toEqual(['.lock']);
  lock.release();
});

it('a link that lies where the draft goes is not followed', async () => {
  vi.spyOn(Math, 'random').mockReturnValue(0.5);
  const victim = join(folder, 'victim');
  writeFileSync(victim, 'precious');
  symlinkSync(victim, `${path}.${ourselves('test').token}`);
  expect(await take()).toMatchObject({ severity: 'error' });
  expect(readFileSync(victim, 'utf8')).toBe('precious');
});

it('a folder that may not be written to is told as that', async () => {
  disk.says = { writeFileSync: { code: 'EACCES' } };
  expect(await take()).toMatchObject({ code: 'folder-read-only' });
});

describe('a lock that is given back', () => {
  it('is removed where it cannot be read, but is the same file still', async () => {
    const lock = lockOf(await take());
    disk.says = { openSync: { code: 'EMFILE', times: 9 } };
    expect(lock.isOurs()).toBe(false);
    lock.release();
    expect(names()).toEqual([]);
  });

  it('is left where it cannot be read and is another file', async () => {
    const lock = lockOf(await take());
    // A file of the same name; the first one stays under another, so that its number is not given anew.
    renameSync(path, `${path}.kept`);
    writeFileSync(path, 'of another');
    disk.says = { openSync: { code: 'EMFILE', times: 9 } };
    lock.release();
    expect(names().sort()).toEqual(['.lock', '.lock.kept']);
  });

  it('is told from another by the last digit of a long number', async () => {
    let file = 2n ** 60n;
    disk.instead = {
      lstatSync: (_, how) => {
        const { bigint } = { bigint: false, ...(how as object) };
        return bigint ? { dev: 1n, ino: file } : { dev: 1, ino: Number(file) };
      },
    };
    const lock = lockOf(await take());
    disk.says = { openSync: { code: 'EMFILE', times: 9 } };
    file += 1n;
    lock.release();
    expect(names()).toEqual(['.lock']);
    file -= 1n;
    lock.release();
    expect(names()).toEqual([]);
  });

  it('is left where it could never be looked at', async () => {
    disk.says = { lstatSync: { code: 'EIO', times: 9 } };
    const lock = lockOf(await take());
    disk.says.openSync = { code: 'EMFILE', times: 9 };
    lock.release();
    expect(names()).toEqual(['.lock']);
  });

  it('is left where it is removed already, without a word', async () => {
    const lock = lockOf(await take());
    rmSync(path);
    lock.release();
    expect(lock.isOurs()).toBe(false);
  });
});

describe('a lock of the dead', () => {
  it('that may not be removed is waited for', async () => {
    leave('.lock', GONE);
    disk.says = { unlinkSync: { code: 'EPERM', times: 999, of: /\.lock$/ } };
    expect(await take()).toMatchObject({ code: 'locked' });
    expect(names()).toEqual(['.lock']);
  });

  it('that may be removed at last is waited for no longer, and between tries never without a pause', async () => {
    leave('.lock', GONE);
    disk.says = { unlinkSync: { code: 'EPERM', times: 3, of: /\.lock$/ } };
    const pauses = vi.spyOn(globalThis, 'setTimeout');
    const lock = lockOf(await take(2000));
    expect(pauses).toHaveBeenCalledTimes(3);
    lock.release();
    expect(names()).toEqual([]);
  });

  it('is had once the one who breaks it is done, and not asked for without a pause', async () => {
    leave('.lock', GONE);
    leave('.lock.break', ourselves('breaker'));
    let tries = 0;
    disk.before = {
      linkSync: (_, to) => {
        if (to !== `${path}.break`) return;
        tries += 1;
        if (tries === 4) rmSync(`${path}.break`);
      },
    };
    const pauses = vi.spyOn(globalThis, 'setTimeout');
    const lock = lockOf(await take(2000));
    expect([tries, pauses.mock.calls.length]).toEqual([4, 3]);
    lock.release();
    expect(names()).toEqual([]);
  });

  it('that another has broken and taken meanwhile is not broken again', async () => {
    leave('.lock', GONE);
    const fresh = JSON.stringify(ourselves('other'));
    disk.before = {
      linkSync: () => {
        // Right before the second lock is in place the first becomes another's.
        if (names().some((name) => name.startsWith('.lock.break.'))) writeFileSync(path, fresh);
      },
    };
    const problem = await take();
    expect(problem).toMatchObject({ code: 'locked', message: expect.stringContaining('"other"') });
    expect(readFileSync(path, 'utf8')).toBe(fresh);
    expect(names()).toEqual(['.lock']);
  });

  it('while another breaks it, who lives, is left to that one', async () => {
    leave('.lock', GONE);
    leave('.lock.break', ourselves('breaker'));
    expect(await take()).toMatchObject({ code: 'locked' });
    expect(names().sort()).toEqual(['.lock', '.lock.break']);
  });

  it.each([
    ['', ''],
    [', where there are no links', 'EPERM'],
  ])('a second lock that became fresh while it was moved aside is put back%s', async (_, code) => {
    if (code !== '') disk.says = { linkSync: { code, times: 999 } };
    leave('.lock', GONE);
    leave('.lock.break', GONE);
    const fresh = JSON.stringify(ourselves('breaker'));
    disk.before = {
      renameSync: () => writeFileSync(`${path}.break`, fresh),
    };
    expect(await take()).toMatchObject({ code: 'locked' });
    expect(readFileSync(`${path}.break`, 'utf8')).toBe(fresh);
    expect(names().sort()).toEqual(['.lock', '.lock.break']);
  });
});

describe('a second lock of the dead', () => {
  it('that became fresh while it was swept is put back', async () => {
    leave('.lock.break', GONE);
    const fresh = JSON.stringify(ourselves('breaker'));
    disk.before = { renameSync: () => writeFileSync(`${path}.break`, fresh) };
    lockOf(await take()).release();
    expect(names()).toEqual(['.lock.break']);
    expect(readFileSync(`${path}.break`, 'utf8')).toBe(fresh);
  });

  it('is moved aside under a name that no other will choose', async () => {
    const asides: unknown[] = [];
    disk.before = { renameSync: (_, aside) => asides.push(aside) };
    for (let round = 0; round < 3; round += 1) {
      leave('.lock.break', GONE);
      lockOf(await take()).release();
    }
    expect(new Set(asides).size).toBe(3);
    expect(names()).toEqual([]);
  });
});

it.each([
  ['where the name was taken for a moment', 'EEXIST'],
  ['where another swept the draft away', 'ENOENT'],
])('it is asked for again without a pause %s', async (_, code) => {
  disk.says = { linkSync: { code } };
  const pauses = vi.spyOn(globalThis, 'setTimeout');
  lockOf(await take(2000)).release();
  expect(pauses).not.toHaveBeenCalled();
});

it('a lock that names nobody, and goes before its age is asked, is had', async () => {
  writeFileSync(path, '');
  let looks = 0;
  disk.before = {
    closeSync: () => {
      looks += 1;
      // The first look asks whether the lock is there and ours after all.
      if (looks === 2) rmSync(path);
    },
  };
  const lock = lockOf(await take(2000));
  expect(lock.isOurs()).toBe(true);
  lock.release();
  expect(names()).toEqual([]);
});

describe('what the system says of a process', () => {
  /** A line of the table of processes, whose fields are their own numbers: see proc(5). */
  const say = (name: string, state: string) => {
    const fields = Array.from({ length: 49 }, (_, index) => index + 4).join(' ');
    disk.instead = {
      readFileSync: (of) =>
        String(of) === `/proc/${process.pid}/stat`
          ? `${process.pid} (${name}) ${state} ${fields}\n`
          : undefined,
    };
  };

  it.each(['node', 'a b', 'x) Z 1', ') S (', '((', ''])('is read past its name: (%s)', (name) => {
    const alive = ['R', 'S', 'D', 'T', 'Z', 'X'].map((state) => {
      say(name, state);
      return isRunning(process.pid);
    });
    expect(alive).toEqual([true, true, true, true, false, false]);
    say(name, 'S');
    expect(ourselves('test').started).toBe('22');
  });

  it('that one began at another time is another; where nothing is said it is the same', () => {
    say('node', 'S');
    const owner = ourselves('test');
    expect([isGone(owner), isGone({ ...owner, started: '21' })]).toEqual([false, true]);
    disk.says = { readFileSync: { code: 'ENOENT', times: 9, of: /^\/proc\// } };
    expect([isGone(owner), isRunning(process.pid), ourselves('test').started]).toEqual([false, true, null]);
  });
});

it('who only looks sees who holds it, whether that one lives, and changes nothing', () => {
  expect(lookAtLock(ledger)).toBeNull();
  leave('.lock', GONE);
  expect(lookAtLock(ledger)).toEqual({ owner: GONE, isStale: true });
  const living = ourselves('other');
  leave('.lock', living);
  expect(lookAtLock(ledger)).toEqual({ owner: living, isStale: false });
  writeFileSync(path, '');
  expect(lookAtLock(ledger)).toEqual({ owner: null, isStale: false });
  disk.says = { openSync: { code: 'EACCES' } };
  expect(lookAtLock(ledger)).toEqual({ owner: null, isStale: false });
  expect(names()).toEqual(['.lock']);
});
