/** A writer at fault is found out before anything is written: each line is read back and compared as data. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { append } from '../../src/ledger/append.ts';
import type { LedgerEvent, WashEvent } from '../../src/ledger/event.ts';
import { scanEvent } from '../../src/ledger/scan.ts';
import { FILL, ledger } from './sample.ts';

/** What a faulty writer makes of a line. */
const writer = vi.hoisted(() => ({ change: (line: string) => line }));

vi.mock('../../src/ledger/line.ts', async (original) => {
  const real = await original<typeof import('../../src/ledger/line.ts')>();
  return { ...real, writeLine: (event: LedgerEvent) => writer.change(real.writeLine(event)) };
});

const folder = mkdtempSync(join(tmpdir(), 'bathbook-back-'));
const path = join(folder, 'bathbook.yaml');
afterAll(() => rmSync(folder, { recursive: true, force: true }));
beforeEach(() => {
  writeFileSync(path, ledger(FILL));
  writer.change = (line) => line;
});

const EVENT: WashEvent = {
  id: 'r1',
  at: '2026-11-20T08:00:00-04:00',
  what: 'wash',
  parts: { model: 6, mask: 2 },
  minutes: [5, 4.5],
  drag_ml: [0, 1],
  cases: ['26-0117', '26-0118'],
  note: '12',
};
const add = (event = EVENT) => append(path, async () => ({ events: [event] }));

describe('nothing is written where the line', () => {
  it.each([
    ['has another value', 'model: 6', 'model: 7'],
    ['has another value at its end', 'mask: 2', 'mask: 20'],
    ['has nought for a number', 'model: 6', 'model: 0'],
    ['has a number for nought', 'drag_ml: [0, 1]', 'drag_ml: [5, 1]'],
    ['has a number for a text', 'note: "12"', 'note: 12'],
    ['has a text for a number', 'model: 6', 'model: "6"'],
    ['lacks a key', ', note: "12"', ''],
    ['lacks a key within', ', mask: 2', ''],
    ['has one more', 'what: wash', 'what: wash, lot: "a"'],
    ['has one more within', 'mask: 2', 'mask: 2, die: 1'],
    ['has a key by another name', 'mask: 2', 'die: 2'],
    ['has a shorter list', '[5, 4.5]', '[5]'],
    ['has a longer list', '[5, 4.5]', '[5, 4.5, 1]'],
    ['has a list in another order', '[5, 4.5]', '[4.5, 5]'],
    ['has a map for a list', '[5, 4.5]', '{0: 5, 1: 4.5}'],
    ['has a single value for a list', '[5, 4.5]', '5'],
    ['has nothing for a list', '[5, 4.5]', '[]'],
    ['has nothing at all', /\{.*\}/, '{}'],
    ['cannot be read', 'what: wash', 'what: [wash'],
    ['has another id', 'id: "r1"', 'id: "r2"'],
  ] as [string, string | RegExp, string][])('%s', async (_, was, is) => {
    writer.change = (line) => {
      expect(line.replace(was, is)).not.toBe(line);
      return line.replace(was, is);
    };
    expect(await add()).toEqual({
      lines: [],
      problems: [
        {
          code: 'not-read-back',
          message: 'Cannot write the wash "r1", the line would not be read back as the same event',
          help: 'Nothing was written; this is a fault of the program, please report it with the command you typed',
          severity: 'error',
        },
      ],
      notes: [],
    });
    expect(readFileSync(path, 'utf8')).toBe(ledger(FILL));
  });
});

describe('it is written where', () => {
  it.each([
    ['a nought has a sign', { ...EVENT, drag_ml: [-0, 1] }],
    ['a nought has none', EVENT],
  ] as [string, WashEvent][])('%s', async (_, event) => {
    expect((await add(event)).problems).toEqual([]);
    expect(readFileSync(path, 'utf8')).toMatch(/\{id: "r1", .*\}\n$/);
  });

  it('keys stand in another order', async () => {
    writer.change = (line) => line.replace('model: 6, mask: 2', 'mask: 2, model: 6');
    expect((await add()).problems).toEqual([]);
  });
});

it('whatever a note is, the scanner reads the line that is written of it', async () => {
  const { writeLine } =
    await vi.importActual<typeof import('../../src/ledger/line.ts')>('../../src/ledger/line.ts');
  const text = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.string({ unit: fc.constantFrom(...'"\\{}[]:,#&*!|>\'%@`~-?\t\r\n \u2028é𝕏') }),
  );
  fc.assert(
    fc.property(text, text, (note, key) => {
      const event = { ...EVENT, note, lot: key } as LedgerEvent;
      const line = writeLine(event);
      expect(scanEvent(line, 0, line.length)).toEqual(event);
    }),
    { numRuns: 1000 },
  );
});
