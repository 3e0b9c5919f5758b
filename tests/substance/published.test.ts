import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Column,
  columnsAt,
  DENSITY_COLUMNS,
  INDEX_COLUMNS,
  strengthsAt,
  valueAt,
} from '../../src/substance/published.ts';

const column = (columns: readonly Column[], source: string, tempC: number): Column =>
  columns.find((one) => one.source === source && one.tempC === tempC)!;
const ict20 = column(DENSITY_COLUMNS, 'ICT1928', 20);
const ict25 = columnsAt(DENSITY_COLUMNS, 25).find(({ source }) => source === 'ICT1928')!;

describe('columnsAt', () => {
  it('gives what was measured at the temperature, and what lies between two columns at most 10 °C apart', () => {
    const sources = (tempC: number) => columnsAt(DENSITY_COLUMNS, tempC).map(({ source }) => source);
    expect(sources(25).toSorted()).toEqual(['CHU1962', 'GONZALEZ2008', 'ICT1928', 'JCED2012']);
    expect(sources(40)).toEqual(['FPE2013']);
    expect(sources(20)).toContain('ZAREI2008');
    // ZAREI2008 has 20 and 50 °C, too far apart to draw a line between.
    expect(sources(35)).toEqual([]);
    expect(sources(15)).toEqual([]);
  });

  it('takes half of each column half-way', () => {
    const ict30 = column(DENSITY_COLUMNS, 'ICT1928', 30);
    for (const wtPct of [0, 13, 40, 88, 100]) {
      expect(valueAt(ict25, wtPct)).toBeCloseTo((valueAt(ict20, wtPct)! + valueAt(ict30, wtPct)!) / 2, 9);
    }
  });
});

describe('valueAt', () => {
  it('gives each printed row back', () => {
    for (const one of [...DENSITY_COLUMNS, ...INDEX_COLUMNS]) {
      for (const { wtPct, value } of one.points) expect(valueAt(one, wtPct)).toBeCloseTo(value, 12);
    }
  });

  it('goes nowhere beyond the rows of a table', () => {
    const fpe = column(DENSITY_COLUMNS, 'FPE2013', 40); // 37.055–94.976 wt%
    expect(valueAt(fpe, 37)).toBeNull();
    expect(valueAt(fpe, 95)).toBeNull();
    expect(valueAt(fpe, 60)).not.toBeNull();
  });

  it('does not join rows that are far apart', () => {
    // CHU1962 at 20 °C has no index between 69 and 100 wt%.
    expect(valueAt(column(INDEX_COLUMNS, 'CHU1962', 20), 85)).toBeNull();
  });

  it('bridges no wide gap', () => {
    const chu = column(INDEX_COLUMNS, 'CHU1962', 20); // nothing between 69.24 and 100 wt%
    expect(valueAt(chu, 69)).not.toBeNull();
    expect(valueAt(chu, 85)).toBeNull();
    expect(strengthsAt(chu, 1.376)).toEqual([]);
  });

  it('leaves suspect rows out', () => {
    expect(column(INDEX_COLUMNS, 'CRC102', 20).points.map(({ wtPct }) => wtPct)).not.toContain(80);
    expect(ict20.points.map(({ wtPct }) => wtPct)).not.toContain(21);
    expect(column(DENSITY_COLUMNS, 'JCED2012', 25).points[0]!.wtPct).toBe(61.8);
  });

  // How far other sources lie from the cubically interpolated ICT1928, at 25 °C the mean of its columns: greatest and
  // root mean square in g/mL, reported by others who interpolated the same tables; half a unit of the last digit is granted.
  it.each([
    ['CRC102', 20, 0, 0.0009, 0.0005],
    ['CHU1962', 25, 0, 0.0009, 0.0005],
    ['GONZALEZ2008', 25, 0, 0.0008, 0.0005],
    ['ZAREI2008', 20, 0, 0.0018, 0.0011],
    ['LEBO1921', 20, 0, 0.0011, 0.0005],
    ['JCED2012', 25, 60, 0.0006, 0.0004],
  ] as const)('finds %s at %i °C as far from ICT1928 as reported', (source, tempC, from, most, rms) => {
    const reference = tempC === 20 ? ict20 : ict25;
    const misses = column(DENSITY_COLUMNS, source, tempC)
      .points.filter(({ wtPct }) => wtPct >= from)
      .map(({ wtPct, value }) => value - valueAt(reference, wtPct)!);
    expect(misses.length).toBeGreaterThan(3);
    expect(Math.abs(Math.max(...misses.map(Math.abs)) - most)).toBeLessThanOrEqual(0.00006);
    expect(Math.abs(Math.hypot(...misses) / Math.sqrt(misses.length) - rms)).toBeLessThanOrEqual(0.00006);
  });
});

describe('strengthsAt', () => {
  it('finds the strength a density was taken from', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DENSITY_COLUMNS),
        fc.double({ min: 0.0001, max: 0.9999, noNaN: true }),
        (one, share) => {
          const [low, high] = [one.points[0]!.wtPct, one.points.at(-1)!.wtPct];
          const wtPct = low + share * (high - low);
          const value = valueAt(one, wtPct);
          fc.pre(value !== null); // rows too far apart to be joined
          const found = strengthsAt(one, value);
          expect(found.some((strength) => Math.abs(strength - wtPct) < 1e-6)).toBe(true);
        },
      ),
    );
  });

  it('finds none beyond the table', () => {
    expect(strengthsAt(ict20, 0.78)).toEqual([]);
    expect(strengthsAt(ict20, 1.01)).toEqual([]);
  });

  it('finds more than one strength where the index rises and falls again (HERRAEZ2006P, about 93 wt%)', () => {
    const found = strengthsAt(column(INDEX_COLUMNS, 'HERRAEZ2006P', 25), 1.37605);
    expect(found.length).toBeGreaterThan(1);
    for (const strength of found) expect(strength).toBeGreaterThan(80);
  });
});
