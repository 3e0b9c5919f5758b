/** The table of states against the golden cases: what an independent implementation computes from the same ledgers. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { statesTable } from '../../src/exchange/states-table.ts';
import { tableCsv } from '../../src/exchange/table.ts';
import { washesTable } from '../../src/exchange/washes-table.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { settle } from '../../src/ledger/settle.ts';
import { hasPython, pythonRows } from './python.ts';

const folder = new URL('../golden/', import.meta.url);
const cases = readdirSync(folder).filter((name) => name.endsWith('.yaml'));

interface Expected {
  tolerance_relative: number;
  as_of: string;
  after: ({ id: string; wash?: Record<string, number | number[]> } & Record<string, unknown>)[];
}

async function opened(name: string) {
  const file = await readLedger(readFileSync(new URL(name, folder)));
  const expected = JSON.parse(
    readFileSync(new URL(name.replace('.yaml', '.expected.json'), folder), 'utf8'),
  ) as Expected;
  const clockMs = Date.parse(expected.as_of);
  const { entries } = await settle(file.events, clockMs, file.header);
  return { shop: openShop(file.header!), entries, clockMs, expected };
}

/** Six figures are written; values below 0.001 of their unit compare against 0.001. */
function close(cell: string, wanted: number | null, tolerance: number, label: string): void {
  if (wanted === null) {
    expect(cell, label).toBe('');
    return;
  }
  const gap = Math.abs(Number(cell) - wanted) / Math.max(Math.abs(wanted), 0.001);
  expect(gap, `${label}: ${cell} against ${wanted}`).toBeLessThanOrEqual(tolerance + 5e-6);
}

const FIGURES = ['resin_g', 'ipa_g', 'water_g', 'volume_ml', 'resin_wt_pct', 'resin_vol_pct', 'water_wt_pct'];

describe.skipIf(!hasPython)('states and washes, read by another CSV reader', () => {
  it.each(cases)('%s', async (name) => {
    const { shop, entries, clockMs, expected } = await opened(name);
    const { table } = statesTable(shop, entries, { clockMs, wanted: () => true, bands: false });
    const [head, ...rows] = pythonRows(await tableCsv(table));
    const cell = (row: string[], column: string) => row[head!.indexOf(column)]!;
    const states = new Map(rows.map((row) => [cell(row, 'id'), row]));
    let compared = 0;
    for (const after of expected.after) {
      const row = states.get(after.id)!;
      for (const { name: bath } of shop.tubs)
        for (const figure of FIGURES) {
          const wanted = (after[bath] as Record<string, number | null>)[figure]!;
          close(
            cell(row, `${bath}_${figure}`),
            wanted,
            expected.tolerance_relative,
            `${after.id} ${bath} ${figure}`,
          );
          compared += 1;
        }
    }
    expect(compared).toBeGreaterThan(10);
  });
});

describe('the record of washes', () => {
  const versions = { program: 'bathbook 0.0.0', model: 'm/1' };
  const time = (ms: number) => new Date(ms).toISOString();

  it.each(cases)('of %s has each wash with what an independent implementation finds', async (name) => {
    const { shop, entries, clockMs, expected } = await opened(name);
    const { table } = washesTable(shop, entries, {
      clockMs,
      wanted: () => true,
      bands: false,
      time,
      versions,
    });
    const washes = expected.after.filter(({ wash }) => wash);
    expect(table.rows.map(({ id }) => id)).toEqual(washes.map(({ id }) => id));
    for (const [nth, { id, wash, ...after }] of washes.entries()) {
      const row = table.rows[nth]!;
      const before = expected.after[expected.after.findIndex((one) => one.id === id) - 1]!;
      close(String(row.carry_g), wash!.carry_g as number, expected.tolerance_relative, `${id} carry`);
      close(
        String(row.residue_ug_per_cm2),
        wash!.residue_ug_per_cm2 as number,
        expected.tolerance_relative,
        `${id} residue`,
      );
      for (const { name: bath } of shop.tubs) {
        const state = after[bath] as Record<string, number>;
        close(
          String(row[`${bath}_after_resin_wt_pct`] ?? ''),
          state.resin_wt_pct!,
          expected.tolerance_relative,
          `${id} ${bath}`,
        );
        const was = before[bath] as Record<string, number>;
        // Without evaporation between them, the bath before a wash is the bath after the event before it.
        if (name.startsWith('p01'))
          close(
            String(row[`${bath}_before_resin_wt_pct`] ?? ''),
            was.resin_wt_pct!,
            expected.tolerance_relative,
            `${id} before`,
          );
      }
    }
  });

  it('without bands is the same with those columns left out', async () => {
    const { shop, entries, clockMs } = await opened('p14-three-months.yaml');
    const on = { clockMs, wanted: () => true, time, versions };
    const [plain, full] = [false, true].map((bands) => washesTable(shop, entries, { ...on, bands }).table);
    const columns = full!.columns.filter((name) => !/_p(05|95)$/.test(name));
    expect(plain!.columns).toEqual(columns);
    expect(full!.columns.length).toBeGreaterThan(columns.length + 20);
    expect(plain!.rows.length).toBeGreaterThan(50);
    const cells = (rows: readonly Record<string, unknown>[]) =>
      rows.map((row) => columns.map((name) => row[name] ?? null));
    expect(cells(plain!.rows)).toEqual(cells(full!.rows));
  });

  it('brackets each estimate by its band, wider for what is less known', async () => {
    const { shop, entries, clockMs } = await opened('p14-three-months.yaml');
    const { table } = washesTable(shop, entries, {
      clockMs,
      wanted: ({ event }) => event.what === 'wash',
      bands: true,
      time,
      versions,
    });
    for (const row of table.rows)
      for (const column of table.columns.filter((one) => table.columns.includes(`${one}_p05`))) {
        const [low, middle, high] = ['_p05', '', '_p95'].map(
          (end) => row[`${column}${end}`] as number | null,
        );
        if (low === null || high === null) continue;
        expect(low, `${String(row.id)} ${column}`).toBeLessThanOrEqual(middle! * (1 + 1e-5) + 1e-9);
        expect(high, `${String(row.id)} ${column}`).toBeGreaterThanOrEqual(middle! * (1 - 1e-5) - 1e-9);
      }
  });
});
