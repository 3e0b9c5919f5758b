import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it, vi } from 'vitest';
import { append } from '../../src/ledger/append.ts';
import { exitCodeOf } from '../../src/ledger/problems.ts';
import { FILL, ledger } from './sample.ts';

/** How the next write to the ledger ends: a full quota may take a part of the bytes, or throw after taking them. */
const disk = vi.hoisted(() => ({ takes: Number.POSITIVE_INFINITY, throws: false }));

vi.mock('node:fs', async (original) => {
  const real = await original<typeof import('node:fs')>();
  const writeSync = (
    file: number,
    bytes: Uint8Array,
    from: number,
    length: number,
    position: number,
  ): number => {
    const count = real.writeSync(file, bytes, from, Math.min(length, disk.takes), position);
    if (disk.throws) {
      throw Object.assign(new Error('ENOSPC: no space left on device, write'), {
        code: 'ENOSPC',
        errno: -28,
      });
    }
    return count;
  };
  return { ...real, writeSync };
});

const folder = mkdtempSync(join(tmpdir(), 'bathbook-full-'));
const path = join(folder, 'bathbook.yaml');
afterAll(() => rmSync(folder, { recursive: true, force: true }));

it.each([false, true])(
  'a write cut short leaves the ledger as it was (the system says so: %s)',
  async (throws) => {
    writeFileSync(path, ledger(FILL));
    Object.assign(disk, { takes: 40, throws });
    const event = { id: 'r1', at: '2026-11-20T08:00:00-04:00', what: 'rotate' as const };
    const done = await append(path, async () => ({ events: [event] }));
    Object.assign(disk, { takes: Number.POSITIVE_INFINITY, throws: false });
    expect(done.problems).toMatchObject([{ code: 'write-failed' }]);
    expect(exitCodeOf(done.problems)).toBe(74);
    expect(readFileSync(path, 'utf8')).toBe(ledger(FILL));
  },
);
