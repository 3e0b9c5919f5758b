/** What a write that fails half way leaves, and what others do to the ledger meanwhile. */
import {
  appendFileSync,
  chmodSync,
  closeSync,
  copyFileSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Appended, append } from '../../src/ledger/append.ts';
import { cutLast } from '../../src/ledger/append-cut-last.ts';
import { OpenFile } from '../../src/ledger/append-file.ts';
import { FileSpans } from '../../src/ledger/append-span.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { exitCodeOf } from '../../src/ledger/problems.ts';
import { FILL, HEAD, ledger, WASH } from './sample.ts';

/** The disk as it is, until a test says otherwise: how a write of these bytes ends, and what happens right after one. */
const disk = vi.hoisted(() => ({
  fails: (_: string): boolean => false,
  syncFails: false,
  afterWrite: undefined as (() => void) | undefined,
  /** Most bytes that are read at a time; and how often a file was read as a whole. */
  most: Number.POSITIVE_INFINITY,
  whole: 0,
}));

vi.mock('node:fs', async (original) => {
  const real = await original<typeof import('node:fs')>();
  const full = (): Error =>
    Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC', errno: -28 });
  const writeSync = (
    file: number,
    bytes: Uint8Array,
    from = 0,
    length = bytes.length,
    at?: number | null,
  ) => {
    if (disk.fails(Buffer.from(bytes).toString())) {
      real.writeSync(file, bytes, from, length >> 1, at);
      throw full();
    }
    const count = real.writeSync(file, bytes, from, length, at);
    disk.afterWrite?.();
    return count;
  };
  const fsyncSync = (file: number): void => {
    if (disk.syncFails) throw Object.assign(new Error('EIO: i/o error, fsync'), { code: 'EIO', errno: -5 });
    real.fsyncSync(file);
  };
  const readSync = (file: number, bytes: Uint8Array, from: number, length: number, at: number): number =>
    real.readSync(file, bytes, from, Math.min(length, disk.most), at);
  const readFileSync = (...args: Parameters<typeof real.readFileSync>) => {
    disk.whole += 1;
    return real.readFileSync(...args);
  };
  return { ...real, writeSync, fsyncSync, readSync, readFileSync };
});

let folder = '';
let path = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'bathbook-file-'));
  path = join(folder, 'bathbook.yaml');
});

afterEach(() => {
  Object.assign(disk, { fails: () => false, syncFails: false, afterWrite: undefined });
  rmSync(folder, { recursive: true, force: true });
});

const ROTATE: LedgerEvent = { id: 'r1', at: '2026-11-20T08:00:00-04:00', what: 'rotate' };
const TORN = '  - {id: "k5q2", at: 2026-1';
const add = (meanwhile = (): void => {}): Promise<Appended> =>
  append(path, async () => {
    meanwhile();
    return { events: [ROTATE] };
  });
const cut = (): ReturnType<typeof cutLast> => cutLast(path, async () => ({ cut: true }));
const content = (): string => readFileSync(path, 'utf8');

describe('a write that fails leaves every byte as it was, and nothing beside it', () => {
  const cases = [
    ['a whole ledger', ledger(FILL)],
    ['no line end', ledger(FILL).trimEnd()],
    ['an empty list', `${HEAD}events: [ ] # é\n`],
    ['an empty list behind a byte order mark', `\ufeff${HEAD}events: []\n`],
    ['a torn line', ledger(FILL) + TORN],
    ['a torn line that is longer than the new one', ledger(FILL) + TORN + 'x'.repeat(500)],
  ] as const;

  it.each(cases)('on a full disk: %s', async (_, before) => {
    writeFileSync(path, before);
    disk.fails = (text) => text.includes('rotate');
    const done = await add();
    expect(done).toMatchObject({ lines: [], problems: [{ code: 'write-failed' }] });
    expect(exitCodeOf(done.problems)).toBe(74);
    expect(content()).toBe(before);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
    disk.fails = () => false;
    expect((await add()).problems).toEqual([]);
    expect(content()).toContain('"r1"');
  });

  it.each(cases)('when the disk cannot say that it has it: %s', async (_, before) => {
    writeFileSync(path, before);
    disk.syncFails = true;
    expect((await add()).problems).toMatchObject([{ code: 'write-failed' }]);
    expect(content()).toBe(before);
  });

  it('when there is no room for the torn line beside it, which is told by its name', async () => {
    writeFileSync(path, ledger(FILL) + TORN);
    disk.fails = (text) => text === TORN;
    const done = await add();
    expect(done.problems[0]!.message).toContain('.torn-');
    expect(content()).toBe(ledger(FILL) + TORN);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });

  it('when there is no room for the copy of what is undone, nor for the half of it', async () => {
    writeFileSync(path, ledger(FILL, WASH));
    writeFileSync(`${path}.undone`, 'earlier\n');
    disk.fails = (text) => text === WASH;
    expect((await cut()).problems).toMatchObject([{ code: 'write-failed' }]);
    expect(content()).toBe(ledger(FILL, WASH));
    expect(readFileSync(`${path}.undone`, 'utf8')).toBe('earlier\n');
  });

  it('but what is no whole line may be left out where it cannot be put back', async () => {
    writeFileSync(path, ledger(FILL) + TORN);
    let writes = 0;
    disk.afterWrite = () => {
      writes += 1;
    };
    disk.fails = (text) => text.includes('rotate') || (text === TORN && writes > 0);
    expect((await add()).problems).toMatchObject([{ code: 'write-failed' }]);
    expect(content()).toBe(ledger(FILL));
    const aside = readdirSync(folder).filter((name) => name.includes('.torn-'));
    expect(aside.map((name) => readFileSync(join(folder, name), 'utf8'))).toEqual([TORN]);
  });
});

it('what was kept aside stays where the disk cannot say that the ledger is as it was', async () => {
  writeFileSync(path, ledger(FILL, WASH));
  let cuts = 0;
  disk.afterWrite = () => {
    cuts += 1;
  };
  const open = new OpenFile(path);
  open.cut(ledger(FILL).length);
  disk.syncFails = true;
  expect(open.restore()).toBe(false);
  disk.syncFails = false;
  expect(content()).toBe(ledger(FILL, WASH));
  expect(cuts).toBe(1);
  open.close();
});

describe('what others do meanwhile', () => {
  const other = ledger(FILL.replace('4000', '4100'));

  it('an edit of the same length is seen', async () => {
    writeFileSync(path, ledger(FILL));
    const long = new Date(Date.now() - 60_000);
    utimesSync(path, long, long);
    const done = await add(() => writeFileSync(path, other));
    expect(exitCodeOf(done.problems)).toBe(75);
    expect(content()).toBe(other);
  });

  it('also one within the same tick of the clock', async () => {
    writeFileSync(path, ledger(FILL));
    const now = new Date();
    utimesSync(path, now, now);
    const done = await add(() => {
      writeFileSync(path, other);
      utimesSync(path, now, now);
    });
    expect(exitCodeOf(done.problems)).toBe(75);
    expect(content()).toBe(other);
  });

  it('reading it, or changing who may, is nothing', async () => {
    writeFileSync(path, ledger(FILL));
    const done = await add(() => {
      copyFileSync(path, join(folder, 'copy'));
      chmodSync(path, 0o600);
    });
    expect(done.problems).toEqual([]);
  });

  it('a file put in its place right after the write is told: the event went with the old one', async () => {
    writeFileSync(path, ledger(FILL));
    writeFileSync(join(folder, 'saved'), other);
    disk.afterWrite = () => renameSync(join(folder, 'saved'), path);
    const done = await add();
    expect(done).toMatchObject({ lines: [], problems: [{ code: 'changed-meanwhile' }] });
    expect(content()).toBe(other);
  });

  it('a line added by hand in the last moment stays', async () => {
    writeFileSync(path, `${HEAD}events: []\n`);
    disk.afterWrite = () => {
      disk.afterWrite = undefined;
      appendFileSync(path, FILL);
    };
    expect((await add()).problems).toEqual([]);
    expect(content()).toMatch(/"k3f9".*\n.*"r1".*\n$/);
  });

  it('so does one that is added while the torn line is kept aside', async () => {
    writeFileSync(path, ledger(FILL) + TORN);
    disk.afterWrite = () => {
      disk.afterWrite = undefined;
      appendFileSync(path, '\n# by hand\n');
    };
    expect((await add()).problems).toMatchObject([{ code: 'changed-meanwhile' }]);
    expect(content()).toBe(`${ledger(FILL)}${TORN}\n# by hand\n`);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  });
});

describe('what is kept beside the ledger', () => {
  it.each([0o600, 0o640])('nobody can read who cannot read the ledger (%i)', async (mode) => {
    writeFileSync(path, ledger(FILL, WASH) + TORN, { mode });
    chmodSync(path, mode);
    await add();
    await cut();
    const kept = readdirSync(folder).filter((name) => name !== 'bathbook.yaml');
    expect(kept).toHaveLength(2);
    for (const name of kept) expect(statSync(join(folder, name)).mode & 0o777 & ~mode).toBe(0);
  });

  it('does not go through a link to another file', async () => {
    writeFileSync(path, ledger(FILL, WASH));
    writeFileSync(join(folder, 'victim'), 'precious');
    symlinkSync(join(folder, 'victim'), `${path}.undone`);
    const done = await cut();
    expect(done.problems).toMatchObject([{ code: 'write-failed' }]);
    expect(done.problems[0]!.message).toContain(`${path}.undone": it is a link to another file`);
    expect(content()).toBe(ledger(FILL, WASH));
    expect(readFileSync(join(folder, 'victim'), 'utf8')).toBe('precious');
  });

  it('two torn lines at the same time are two files', async () => {
    vi.useFakeTimers({ now: new Date('2026-11-20T08:00:00Z'), toFake: ['Date'] });
    for (const id of ['a1', 'a2']) {
      writeFileSync(path, `${ledger(FILL)}  - {id: "${id}`);
      await add();
    }
    vi.useRealTimers();
    const kept = readdirSync(folder).filter((name) => name.includes('.torn-2026-11-20T080000000Z'));
    expect(kept.map((name) => readFileSync(join(folder, name), 'utf8')).sort()).toEqual([
      '  - {id: "a1',
      '  - {id: "a2',
    ]);
  });
});

describe('parts of an open ledger', () => {
  it('are read as they are, and fewer where it has ended', () => {
    writeFileSync(path, 'abcdefghij');
    const open = new OpenFile(path);
    const descriptor = openSync(path, 'r');
    for (const spans of [open, new FileSpans(descriptor)]) {
      expect(spans.size).toBe(10);
      expect(spans.span(3, 6).toString()).toBe('def');
      expect(spans.span(8, 20).toString()).toBe('ij');
      expect(spans.span(6, 3)).toHaveLength(0);
      expect(spans.span(30, 40)).toHaveLength(0);
      expect(spans.holds(3, Buffer.from('def'))).toBe(true);
      expect(spans.holds(3, Buffer.from('de'))).toBe(true);
      expect(spans.holds(4, Buffer.from('def'))).toBe(false);
      expect(spans.holds(8, Buffer.from('ijk'))).toBe(false);
      expect(spans.holds(0, Buffer.from('abcdefghij'))).toBe(true);
    }
    open.close();
    closeSync(descriptor);
    expect(() => open.span(0, 1)).toThrow('EBADF');
  });

  it('are read to their end, however little the disk gives at a time', () => {
    writeFileSync(path, 'abcdefghij');
    const open = new OpenFile(path);
    disk.most = 3;
    expect(open.span(1, 9).toString()).toBe('bcdefghi');
    disk.most = Number.POSITIVE_INFINITY;
    open.close();
  });

  it('of one that was changed long ago are read when they are asked for', () => {
    writeFileSync(path, 'abc');
    utimesSync(path, 1_700_000_000, 1_700_000_000);
    disk.whole = 0;
    const open = new OpenFile(path);
    expect([open.size, disk.whole, open.isUnchanged()]).toEqual([3, 0, true]);
    expect(Buffer.from(open.bytes).toString()).toBe('abc');
    open.close();
  });

  it('of one that was changed just now are compared, though time and length are the same', () => {
    writeFileSync(path, 'abc');
    const open = new OpenFile(path);
    const { atime, mtime } = statSync(path);
    writeFileSync(path, 'abd');
    utimesSync(path, atime, mtime);
    expect(open.isUnchanged()).toBe(false);
    open.close();
  });
});

it('a byte that is replaced twice goes back to what it was at first', () => {
  writeFileSync(path, 'abc');
  const open = new OpenFile(path);
  open.replace(1, 0x58);
  open.replace(1, 0x59);
  open.replace(2, 0x5a);
  expect(readFileSync(path, 'utf8')).toBe('aYZ');
  expect(open.restore()).toBe(true);
  expect(readFileSync(path, 'utf8')).toBe('abc');
  open.close();
});

it('what was cut, and added after it, goes back as a whole', () => {
  writeFileSync(path, 'line 1\nline 2\n');
  const open = new OpenFile(path);
  expect(open.restore()).toBe(true);
  open.cut(7);
  open.add(Buffer.from('line two, longer\n'));
  expect(readFileSync(path, 'utf8')).toBe('line 1\nline two, longer\n');
  expect(open.restore()).toBe(true);
  expect(readFileSync(path, 'utf8')).toBe('line 1\nline 2\n');
  expect(open.mode.toString(8)).toBe((statSync(path).mode & 0o777).toString(8));
  open.close();
});
