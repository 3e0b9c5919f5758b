import { describe, expect, it } from 'vitest';
import { joinPart, type Part, type Row } from '../../src/compare/part.ts';
import { count, emptySpread } from '../../src/compare/spread.ts';
import { WEEKS_A_YEAR, yearlyOf } from '../../src/compare/yearly.ts';

const ROW: Row = {
  days: 400,
  washes: 1000,
  parts: 5000,
  pouredMl: 60_000,
  wasteMl: 50_000,
  wasteG: 42_000,
  changes: 20,
  overLimit: 30,
};
const OTHER: Row = { ...ROW, washes: 500, parts: 2500, pouredMl: 40_000, wasteMl: 30_000, wasteG: 25_000, changes: 5, overLimit: 0 }; // biome-ignore format: one row

function partOf(...rows: Row[]): Part {
  const part: Part = { rows, lastBath: emptySpread(), residue: emptySpread(), followed: 0 };
  for (let one = 1; one <= 100; one += 1) count(part.lastBath, one / 50);
  return part;
}

const FREE = { disposalPerLitre: 0, perChange: 0 };
/** 2000 washes a year, to make the arithmetic plain. */
const PER_WEEK = 2000 / WEEKS_A_YEAR;

describe('a year', () => {
  it('has 52 weeks and a day and a quarter', () => {
    expect(WEEKS_A_YEAR * 7).toBeCloseTo(365.25, 12);
  });

  it('is what was counted in all worlds for each of their washes, times the washes of a year', () => {
    const year = yearlyOf(partOf(ROW, OTHER), { ...FREE, perLitre: 7 }, PER_WEEK);
    // By hand: 60 + 40 L in 1000 + 500 washes are 400/3 L in 2000.
    expect(year.litres).toBeCloseTo(400 / 3, 9);
    expect(year.wasteLitres).toBeCloseTo((80 / 1500) * 2000, 9);
    expect(year.wasteKg).toBeCloseTo((67 / 1500) * 2000, 9);
    expect(year.changes).toBeCloseTo((25 / 1500) * 2000, 9);
    expect(year.washesBetweenChanges).toBeCloseTo(60, 9);
    expect(year.overLimitShare).toBeCloseTo(30 / 1500, 12);
    expect(year.cost).toBeCloseTo((7 * 400) / 3, 9);
    // 120 L a year in one world, 160 L in the other.
    expect(year.costBand).toEqual({ p05: expect.closeTo(840, 9), p95: expect.closeTo(1120, 9) });
    // 5 parts a wash, 10 000 a year.
    expect(year.costPerPart).toBeCloseTo((7 * 400) / 3 / 10_000, 12);
    expect(year.lastBathWtPctP95 / 1.9).toBeCloseTo(1, 2);
  });

  it('costs solvent, waste and work', () => {
    const prices = { perLitre: 7, disposalPerLitre: 3, perChange: 12 };
    // 120 L at 7, 100 L at 3, 40 changes at 12.
    expect(yearlyOf(partOf(ROW), prices, PER_WEEK).cost).toBeCloseTo(840 + 300 + 480, 9);
  });

  it('has no cost where the solvent has no price, and none a part where no parts are known', () => {
    expect(yearlyOf(partOf(ROW), { ...FREE, perChange: 12 }, PER_WEEK)).toMatchObject({
      cost: null,
      costBand: null,
      costPerPart: null,
    });
    expect(yearlyOf(partOf({ ...ROW, parts: 0 }), { ...FREE, perLitre: 7 }, PER_WEEK)).toMatchObject({
      costPerPart: null,
      cost: expect.closeTo(840, 9),
    });
  });

  it('of baths that are never changed has none between changes', () => {
    expect(yearlyOf(partOf({ ...ROW, changes: 0 }), FREE, PER_WEEK)).toMatchObject({
      changes: 0,
      washesBetweenChanges: null,
    });
  });

  it('leaves out a world in which nothing was washed', () => {
    const none: Row = { ...ROW, washes: 0, parts: 0, pouredMl: 900 };
    expect(yearlyOf(partOf(ROW, none), FREE, PER_WEEK).litres).toBeCloseTo(120, 9);
  });

  it('is the same from joined parts as from one', () => {
    const joined = partOf(ROW);
    joinPart(joined, partOf(OTHER));
    const once = partOf(ROW, OTHER);
    addTwice(once);
    expect(yearlyOf(joined, { ...FREE, perLitre: 2 }, PER_WEEK)).toEqual(
      yearlyOf(once, { ...FREE, perLitre: 2 }, PER_WEEK),
    );
  });
});

function addTwice(part: Part): void {
  for (let one = 1; one <= 100; one += 1) count(part.lastBath, one / 50);
}
