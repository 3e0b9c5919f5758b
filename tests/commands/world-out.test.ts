/** What `--out` may be besides a file: links, pipes, devices, folders. Nothing that is no file is ever replaced. */
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { text as textOf } from 'node:stream/consumers';
import { describe, expect, it } from 'vitest';
import { writeWhole } from '../../src/commands/write-whole.ts';
import { tempFolder } from './bundle.ts';

const PAGE = 'a page\n';
const canMakeDevices = (folder: string) =>
  process.getuid?.() === 0 && spawnSync('mknod', [join(folder, 'probe'), 'c', '1', '3']).status === 0;

describe('a page', () => {
  it('takes the place of the file that was there, with its permissions', () => {
    const path = join(tempFolder(), 'page.html');
    writeFileSync(path, 'of last week');
    chmodSync(path, 0o640);
    writeWhole(path, PAGE);
    expect(readFileSync(path, 'utf8')).toBe(PAGE);
    expect(statSync(path).mode & 0o777).toBe(0o640);
  });

  it.each([
    ['to a file', true],
    ['to nothing', false],
  ])('goes where a link leads, %s, and leaves the link', (_, isThere) => {
    const folder = tempFolder();
    const file = join(folder, 'of-today.html');
    const link = join(folder, 'page.html');
    if (isThere) writeFileSync(file, 'of last week');
    symlinkSync('of-today.html', link);
    writeWhole(link, PAGE);
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
    expect(readFileSync(file, 'utf8')).toBe(PAGE);
    expect(readdirSync(folder).sort()).toEqual(['of-today.html', 'page.html']);
  });

  it('is written into a pipe, which stays one', async () => {
    const pipe = join(tempFolder(), 'pipe');
    execFileSync('mkfifo', [pipe]);
    const reader = spawn('cat', [pipe]);
    writeWhole(pipe, PAGE);
    expect(await textOf(reader.stdout)).toBe(PAGE);
    expect(lstatSync(pipe).isFIFO()).toBe(true);
  });

  it('is written into a device, which stays one', ({ skip }) => {
    const folder = tempFolder();
    // A device of its own: a fault must not cost the machine its /dev/null.
    if (!canMakeDevices(folder)) skip('only the system user can make devices');
    const device = join(folder, 'null');
    execFileSync('mknod', [device, 'c', '1', '3']);
    try {
      writeWhole(device, PAGE);
      expect(lstatSync(device).isCharacterDevice()).toBe(true);
    } catch (error) {
      // Some folders hold devices that nobody may open.
      expect(String(error)).toMatch(/EACCES|EPERM/);
      expect(lstatSync(device).isCharacterDevice()).toBe(true);
    }
  });

  it('is refused in the place of a folder, in none, and in a ring of links, and leaves nothing behind', () => {
    const folder = tempFolder();
    mkdirSync(join(folder, 'page.html'));
    symlinkSync('ring', join(folder, 'ring'));
    for (const name of ['page.html', 'none/page.html', 'ring', `${'a'.repeat(300)}.html`])
      expect(() => writeWhole(join(folder, name), PAGE), name).toThrow('Cannot write');
    expect(readdirSync(folder).sort()).toEqual(['page.html', 'ring']);
    rmSync(join(folder, 'ring'));
    expect(existsSync(join(folder, 'none'))).toBe(false);
  });
});
