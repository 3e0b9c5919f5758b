/** The tables of stock, waste and looks fit the terminals they are made for, with the widest values that are usual. */
import { describe, expect, it } from 'vitest';
import type { Look, WashSeen } from '../../src/records/inspections.ts';
import type { Container } from '../../src/records/waste.ts';
import { isPast, WASTE_RULES } from '../../src/records/waste-rules.ts';
import { looksTable } from '../../src/render/inspect.ts';
import { painter } from '../../src/render/paint.ts';
import { type StockItem, stockTable } from '../../src/render/stock.ts';
import { aligned, type Table } from '../../src/render/table.ts';
import { containersTable, thresholdsTable } from '../../src/render/waste.ts';

const paint = painter({ choice: 'never', env: {}, stream: {} });
const day = () => '2026-11-20';

async function widest(table: Table, width: number): Promise<number> {
  const text = await aligned(table, paint, width);
  return Math.max(...text.split('\n').map((line) => line.length));
}

const ITEM: StockItem = {
  solvent: 'ipa99',
  onHandMl: -12_340,
  belowZero: true,
  receivedMl: 120_000,
  reclaimedMl: 0,
  usedMl: 132_340,
  used28Ml: 20_000,
  lots: [{ lot: 'K-2291', receivedMl: 20_000, atMs: 0, pricePerL: 7.4 }],
  pricePerL: 12.4,
  priceFrom: 'received',
  countedMl: null,
  paceDays: 28,
  lastsDays: null,
  testByMs: null,
};

const CONTAINER: Container = {
  container: 'can-12',
  openedMs: 0,
  capacityMl: 25_000,
  heldMl: 24_500,
  grams: { resin: 2345, ipa: 17_000, water: 300 },
  takenMl: 0,
  takenGrams: { resin: 0, ipa: 0, water: 0 },
  reclaimedMl: 0,
  beyondMl: 0,
  closed: null,
  closedMs: null,
  lastMs: 0,
  fullShare: 0.98,
  ageDays: 123,
};

const LOOK: Look = {
  event: {
    id: 'look1',
    at: '',
    what: 'inspect',
    wash: 'k3f9x',
    result: 'residue',
    parts: { mask: 12 },
    cases: ['26-0412'],
  },
  atMs: 0,
  wash: {
    lastBath: 'clean',
    isUsualLast: true,
    resinWtPct: { p05: 0.83, p50: 1.59, p95: 2.49 },
    residueUgPerCm2: { p50: 12_345 },
    soakMin: [9, 9],
    drainedMin: 840,
  } as unknown as WashSeen,
};

describe('the rows of the stock', () => {
  const view = { currency: 'CAD', clockMs: 0, day, width: 60 };
  const lot = { lot: 'A1', receivedMl: 20_000, atMs: 0, pricePerL: 4.75 };
  const cells = (lots: (typeof lot)[], forPeople: boolean) =>
    stockTable([{ ...ITEM, lots }], { ...view, forPeople }).rows.map(([solvent, name]) => [solvent, name]);
  const { solvent } = ITEM;

  it('have the only lot beside its solvent, and several below it', () => {
    expect(cells([], true)).toEqual([[solvent, '']]);
    expect(cells([lot], true)).toEqual([[solvent, 'A1']]);
    expect(cells([lot, { ...lot, lot: 'A2' }], true)).toEqual([
      [solvent, 'all'],
      ['', 'A1'],
      ['', 'A2'],
    ]);
  });

  it('each name their solvent for a program', () => {
    expect(cells([lot], false)).toEqual([
      [solvent, ''],
      [solvent, 'A1'],
    ]);
  });
});

describe('within a terminal', () => {
  it.each([60, 80])('of %d columns: the stock', async (width) => {
    const table = stockTable([ITEM], { currency: 'CAD', clockMs: 0, day, width, forPeople: true });
    expect(await widest(table, width)).toBeLessThanOrEqual(width);
    expect(table.head.includes('came in')).toBe(width === 80);
  });

  it('of 80 columns: what was reclaimed as well', async () => {
    const view = { currency: 'CAD', clockMs: 0, day, width: 80, forPeople: true };
    expect(await widest(stockTable([{ ...ITEM, reclaimedMl: 3000 }], view), 80)).toBeLessThanOrEqual(80);
  });

  it('of 80 columns: the containers', async () => {
    expect(await widest(containersTable([CONTAINER], day), 80)).toBeLessThanOrEqual(80);
  });

  it.each([60, 80])('of %d columns: the thresholds, one of them past', async (width) => {
    const thresholds = WASTE_RULES.map((rule) => ({ rule, amount: 101, past: isPast(rule, 101) }));
    const table = thresholdsTable(thresholds);
    expect(table.rows.map(([, , limit]) => limit).filter((limit) => limit!.startsWith('PAST'))).toEqual([
      'PAST: under 99.8 kg',
      'PAST: up to 100 kg',
      'PAST: up to 90 days',
    ]);
    // At 60 the last column keeps the least width in which it can be read.
    expect(await widest(table, width)).toBeLessThanOrEqual(width === 60 ? 65 : width);
  });

  it.each([60, 80, 110])('of %d columns: the looks', async (width) => {
    const table = looksTable([LOOK], { when: () => '2026-11-20 17:30', day, width });
    expect(await widest(table, width)).toBeLessThanOrEqual(width);
    expect(table.head).toHaveLength({ 60: 4, 80: 7, 110: 8 }[width]!);
  });
});
