import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Column,
  columnsAt,
  DENSITY_COLUMNS,
  flagsAt,
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

describe('columns of our own making', () => {
  const made = (tempC: number, rows: [number, number][]): Column => ({
    source: 'MADE',
    tempC,
    points: rows.map(([wtPct, value]) => ({ wtPct, value })),
  });
  const plane = (tempC: number, ...strengths: number[]) =>
    made(
      tempC,
      strengths.map((wtPct) => [wtPct, 10 * wtPct + tempC]),
    );

  it('between two temperatures have the strengths that both have', () => {
    const [one] = columnsAt([plane(20, 0, 10, 20, 30), plane(30, 10, 20)], 24);
    expect(one!.points.map(({ wtPct }) => wtPct)).toEqual([10, 20]);
    for (const { wtPct, value } of one!.points) expect(value).toBeCloseTo(10 * wtPct + 24, 9);
  });

  it('with one strength in common make none between them', () => {
    expect(columnsAt([plane(20, 0, 10, 20), plane(30, 20, 30)], 25)).toEqual([]);
  });

  it('10 °C apart are joined, farther apart not', () => {
    expect(columnsAt([plane(20, 0, 10), plane(30, 0, 10)], 25)).toHaveLength(1);
    expect(columnsAt([plane(20, 0, 10), plane(30.5, 0, 10)], 25)).toEqual([]);
  });

  it('give a cubic back everywhere, in the first gap and the last', () => {
    const cubic = (w: number) => 3 - 0.2 * w + 0.03 * w ** 2 - 0.0004 * w ** 3;
    const one = made(
      20,
      [0, 10, 20, 32, 44, 60].map((w) => [w, cubic(w)]),
    );
    for (const w of [1, 5, 13, 25, 40, 50, 59]) expect(valueAt(one, w)).toBeCloseTo(cubic(w), 9);
  });

  it('are not joined over more than 12 wt% where weak, or 22 wt% where strong', () => {
    const at = (from: number, to: number) => valueAt(plane(20, from, to), (from + to) / 2);
    expect(at(10, 22)).not.toBeNull();
    expect(at(10, 22.5)).toBeNull();
    expect(at(35, 48)).toBeNull();
    expect(at(36, 58)).not.toBeNull();
    expect(at(36, 58.5)).toBeNull();
  });

  it('rise through a printed value once', () => {
    expect(strengthsAt(plane(20, 0, 10, 20, 30), 120)).toEqual([10]);
  });

  it('tell the flags of a row alone, of both rows around a gap, and none beyond the rows', () => {
    const points = [
      { wtPct: 10, value: 1 },
      { wtPct: 20, value: 2, flag: 'rounded' as const },
      { wtPct: 30, value: 3 },
    ];
    const flags = [9, 10, 15, 20, 25, 30, 31].map((wtPct) =>
      flagsAt({ source: 'MADE', tempC: 20, points }, wtPct),
    );
    expect(flags).toEqual([[], [], ['rounded'], ['rounded'], ['rounded'], [], []]);
  });

  it('have no strengths without rows', () => {
    expect(strengthsAt(made(20, []), 1)).toEqual([]);
  });
});

describe('the columns of the data', () => {
  it.each([
    ['density', DENSITY_COLUMNS],
    ['index', INDEX_COLUMNS],
  ] as const)(
    'of the %s are in the order of temperature and strength, each with more than one row',
    (_, columns) => {
      const temps = columns.map(({ tempC }) => tempC);
      expect(temps).toEqual(temps.toSorted((a, b) => a - b));
      for (const { source, points } of columns) {
        const strengths = points.map(({ wtPct }) => wtPct);
        expect(source).toMatch(/^[A-Z]+\d+\w?$/);
        expect(strengths.length).toBeGreaterThan(1);
        expect(strengths).toEqual(strengths.toSorted((a, b) => a - b));
      }
    },
  );
});

describe('flagsAt', () => {
  const lebo = column(DENSITY_COLUMNS, 'LEBO1921', 20); // 0 wt% is printed as 0.99800, rounded; 9.58 wt% as 0.98293
  it.each([
    [0, ['rounded']],
    [3, ['rounded']],
    [9.58, []],
    [12, []],
  ])('of LEBO1921 at %f wt% is %j: a printed row speaks for itself', (wtPct, flags) => {
    expect(flagsAt(lebo, wtPct)).toEqual(flags);
  });

  it('of a column with a bias is told once', () => {
    expect(flagsAt(ict20, 50.5)).toEqual(['column_bias']);
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

  it('finds each printed row of a falling density once', () => {
    for (const one of DENSITY_COLUMNS) {
      const falls = one.points.every(({ value }, at) => at === 0 || value < one.points[at - 1]!.value);
      if (!falls) continue;
      for (const { wtPct, value } of one.points) expect(strengthsAt(one, value)).toEqual([wtPct]);
    }
    expect(strengthsAt(ict20, ict20.points.at(-1)!.value)).toEqual([100]);
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
