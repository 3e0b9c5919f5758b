/** A new ledger on disks that know no links, or say odd things of them. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { create } from '../../src/ledger/append-create.ts';

/** What linking says: before it does anything, or after it is done. And whether a write fails, by the number of it. */
const disk = vi.hoisted(() => ({
  link: '',
  linkedFirst: false,
  failingWrite: -1,
  writes: 0,
  synced: [] as string[],
}));

vi.mock('node:fs', async (original) => {
  const real = await original<typeof import('node:fs')>();
  const failure = (code: string) => Object.assign(new Error(`${code}: it failed, call`), { code, errno: -1 });
  const names = new Map<number, string>();
  return {
    ...real,
    openSync: (path: string, ...rest: [string, number?]) => {
      const file = real.openSync(path, ...rest);
      names.set(file, path);
      return file;
    },
    fsyncSync: (file: number) => {
      real.fsyncSync(file);
      disk.synced.push(names.get(file)!);
    },
    linkSync: (from: string, to: string) => {
      if (disk.linkedFirst || disk.link === '') real.linkSync(from, to);
      if (disk.link !== '') throw failure(disk.link);
    },
    writeSync: (...args: Parameters<typeof real.writeSync>) => {
      disk.writes += 1;
      if (disk.writes === disk.failingWrite) throw failure('ENOSPC');
      return real.writeSync(...args);
    },
  };
});

let folder = '';
let path = '';
beforeEach(() => {
  Object.assign(disk, { link: '', linkedFirst: false, failingWrite: -1, writes: 0, synced: [] });
  folder = mkdtempSync(join(tmpdir(), 'bathbook-create-'));
  path = join(folder, 'bathbook.yaml');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const TEXT = 'format: bathbook/1 # é\n';

it.each(['EPERM', 'ENOSYS', 'ENOTSUP', 'EOPNOTSUPP'])(
  'without links (%s) it is written under its own name',
  (code) => {
    disk.link = code;
    expect(create(path, TEXT)).toBeNull();
    expect(readFileSync(path, 'utf8')).toBe(TEXT);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
    expect(disk.synced).toContain(path);
    expect(disk.synced.at(-1)).toBe(folder);
  },
);

it('without links it writes over nothing either', () => {
  writeFileSync(path, 'precious');
  disk.link = 'EPERM';
  expect(create(path, TEXT)).toMatchObject({ code: 'already-exists' });
  expect(readFileSync(path, 'utf8')).toBe('precious');
  expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
});

it('without links a half of it is taken away again', () => {
  Object.assign(disk, { link: 'EPERM', failingWrite: 2 });
  expect(create(path, TEXT)).toMatchObject({ code: 'write-failed' });
  expect(readdirSync(folder)).toEqual([]);
});

it.each(['EIO', 'EACCES', 'ENOSPC'])('another refusal (%s) is told, and nothing is left', (code) => {
  disk.link = code;
  expect(create(path, TEXT)).toMatchObject({ severity: 'error', message: expect.stringContaining(path) });
  expect(readdirSync(folder)).toEqual([]);
});

it.each(['EEXIST', 'EIO', 'EPERM'])(
  'a link that is made and then said to have failed (%s) is made',
  (code) => {
    Object.assign(disk, { link: code, linkedFirst: true });
    expect(create(path, TEXT)).toBeNull();
    expect(readFileSync(path, 'utf8')).toBe(TEXT);
    expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
  },
);

it('where a file is, it stays, and another file of the same text is another', () => {
  writeFileSync(path, TEXT);
  const { ino } = statSync(path);
  expect(create(path, TEXT)).toMatchObject({ code: 'already-exists' });
  expect(statSync(path).ino).toBe(ino);
  expect(readdirSync(folder)).toEqual(['bathbook.yaml']);
});

it('is on the disk before it has its name, and its folders too', () => {
  const deep = join(folder, 'a', 'b', 'bathbook.yaml');
  expect(create(deep, TEXT, { makeFolder: true })).toBeNull();
  expect(disk.synced[0]).toBe(folder);
  expect(disk.synced[1]).toBe(join(folder, 'a'));
  expect(disk.synced[2]).toMatch(/\/b\/bathbook\.yaml\.new-[0-9a-z]+-[0-9a-z]{3,}$/);
  expect(disk.synced[3]).toBe(join(folder, 'a', 'b'));
  expect(existsSync(deep)).toBe(true);
});

it('drafts that others left are not taken for its own', () => {
  const pid = process.pid.toString(36);
  writeFileSync(`${path}.new-${pid}-abc`, 'of this process');
  writeFileSync(`${path}.new-0-abc`, 'of none');
  writeFileSync(`${path}.new-${(2 ** 22 + 1).toString(36)}-abc`, 'of a dead one');
  expect(create(path, TEXT)).toBeNull();
  expect(readdirSync(folder).sort()).toEqual(
    ['bathbook.yaml', 'bathbook.yaml.new-0-abc', `bathbook.yaml.new-${pid}-abc`].sort(),
  );
});
