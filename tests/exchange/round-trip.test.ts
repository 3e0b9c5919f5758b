/** What is exported comes back as it was, in both formats, whatever stands in it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { eventRow } from '../../src/exchange/cell.ts';
import { EVENT_COLUMNS } from '../../src/exchange/columns.ts';
import { writeCsv } from '../../src/exchange/csv.ts';
import { planColumns } from '../../src/exchange/plan.ts';
import { type RowStyle, rowEvent } from '../../src/exchange/row-event.ts';
import { type Rows, readRows } from '../../src/exchange/rows.ts';
import { vocabulary } from '../../src/exchange/words.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { events } from './any-events.ts';
import { hasPython, pythonRows } from './python.ts';

const HEAD = EVENT_COLUMNS.map(({ name }) => name);
const words = vocabulary({
  baths: new Set(['dirty', 'clean']),
  brimMl: new Map(),
  washBaths: ['dirty', 'clean'],
  solvents: new Set(['ipa99']),
  resins: new Set(['standard']),
  parts: new Set(['model', 'mask', 'hollow-model']),
});
const style: RowStyle = {
  mark: 'point',
  words,
  exact: true,
  guarded: true,
  dates: undefined,
  local: () => undefined,
  time: (ms) => new Date(ms).toISOString(),
};

function eventsOf(rows: Rows): unknown[] {
  const plan = planColumns(rows.columns, { maps: [], ignored: [], constants: [] });
  if (Array.isArray(plan)) throw new Error(plan[0]!.message);
  return rows.rows.map((row) => {
    const made = rowEvent(row, plan, { ...style, guarded: rows.format === 'csv' });
    if ('message' in made) throw new Error(made.message);
    return made.event;
  });
}

const csvOf = (list: readonly LedgerEvent[]) => writeCsv(HEAD, list, eventRow);

describe('events', () => {
  it('come back from CSV', async () => {
    await fc.assert(
      fc.asyncProperty(events, async (list) => {
        const rows = await readRows(await csvOf(list), 'csv');
        expect('message' in rows ? rows : eventsOf(rows)).toEqual(list);
      }),
      { numRuns: 150 },
    );
  });

  it('come back from NDJSON', async () => {
    await fc.assert(
      fc.asyncProperty(events, async (list) => {
        fc.pre(list.length > 0);
        const rows = await readRows(list.map((one) => `${JSON.stringify(one)}\n`).join(''));
        expect('message' in rows ? rows : eventsOf(rows)).toEqual(list);
      }),
      { numRuns: 150 },
    );
  });

  it.skipIf(!hasPython)('are the same cells to a reader of another make, and none is a formula', async () => {
    const list = fc.sample(events, 40).flat();
    const rows = pythonRows(await csvOf(list));
    expect(rows[0]).toEqual(HEAD);
    expect(rows.length).toBe(list.length + 1);
    for (const [nth, row] of rows.slice(1).entries()) {
      expect(row).toEqual(eventRow(list[nth]!));
      for (const cell of row) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
    }
  });
});
