/** A disk that fails from one call on and does not recover: what cannot be put back must still read as what was there. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { CORE_SCHEMA, load } from 'js-yaml';
import { afterAll, afterEach, expect, it, vi } from 'vitest';
import { append } from '../../src/ledger/append.ts';
import { cutLast } from '../../src/ledger/append-cut-last.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { FILL, HEAD, ledger, WASH } from './sample.ts';

/** How many writes of a ledger still succeed; the rest take half of their bytes. And whether a cut is done and then said to have failed. */
const disk = vi.hoisted(() => ({ writes: Number.POSITIVE_INFINITY, cutsFail: false }));

vi.mock('node:fs', async (original) => {
  const real = await original<typeof import('node:fs')>();
  const failure = (code: string) => Object.assign(new Error(`${code}: the disk failed`), { code, errno: -5 });
  return {
    ...real,
    writeSync: (
      file: number,
      bytes: Uint8Array,
      from = 0,
      length = bytes.length - from,
      at: number | null = null,
    ) => {
      disk.writes -= 1;
      return real.writeSync(file, bytes, from, disk.writes < 0 ? length >> 1 : length, at);
    },
    ftruncateSync: (file: number, length: number) => {
      real.ftruncateSync(file, length);
      if (disk.cutsFail) throw failure('EIO');
    },
  };
});

const folder = mkdtempSync(join(tmpdir(), 'bathbook-dying-'));
const path = join(folder, 'bathbook.yaml');
afterAll(() => rmSync(folder, { recursive: true, force: true }));
afterEach(() => void Object.assign(disk, { writes: Number.POSITIVE_INFINITY, cutsFail: false }));

const EVENT = { id: 'r1', at: '2026-11-20T08:00:00-04:00', what: 'inspect', result: 'ok' } as const;

it.each(['[]', '[   ]', '[] # none yet'])(
  'an empty list, written as %s, is an empty list wherever the disk stops, for this program and another',
  async (list) => {
    const text = `${HEAD}events: ${list}\n`;
    let refused = 0;
    for (let writes = 0; writes < 8; writes += 1) {
      writeFileSync(path, text);
      disk.writes = writes;
      const done = await append(path, async () => ({ events: [EVENT] }));
      disk.writes = Number.POSITIVE_INFINITY;
      if (done.problems.length === 0) continue;
      refused += 1;
      const now = readFileSync(path, 'utf8');
      const { events } = load(now, { schema: CORE_SCHEMA }) as { events: unknown[] | null };
      expect(events ?? [], now).toEqual([]);
      const file = await readLedger(Buffer.from(now));
      expect([file.problems, file.events], now).toEqual([[], []]);
      const next = await append(path, async () => ({ events: [EVENT] }));
      expect(next.problems).toEqual([]);
      expect(load(readFileSync(path, 'utf8'), { schema: CORE_SCHEMA })).toMatchObject({
        events: [{ id: 'r1' }],
      });
    }
    expect(refused).toBeGreaterThan(3);
  },
);

it('a line that was cut off, and the cut then said to have failed, is put back', async () => {
  const text = ledger(FILL, WASH);
  writeFileSync(path, text);
  disk.cutsFail = true;
  const { problems } = await cutLast(path, async () => ({ cut: true }));
  expect(problems).toMatchObject([{ code: 'write-failed' }]);
  expect(readFileSync(path, 'utf8')).toBe(text);
});
