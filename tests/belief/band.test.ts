import { describe, expect, it } from 'vitest';
import { priorMedians } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { bandOf, quantileAt, withScatterAhead } from '../../src/belief/band.ts';
import { REACH } from '../../src/belief/bend.ts';
import { Ensemble } from '../../src/belief/ensemble.ts';
import { PAIR } from '../bath/bench.ts';

/** NIST/SEMATECH e-Handbook 1.3.6.7.1: 95 % of a standard normal lies below. */
const Z95 = 1.6448536;
const shop = openShop(PAIR);
/** Three factors: the middle, then two worlds for each. */
const ensemble = new Ensemble(shop, priorMedians(shop));
const worlds = (of: (u: readonly number[]) => number): number[] => [
  of([0, 0, 0]),
  ...[0, 1, 2].flatMap((axis) =>
    [REACH, -REACH].map((side) => of([0, 1, 2].map((other) => (other === axis ? side : 0)))),
  ),
];

describe('the band of a positive figure', () => {
  it('is log-normal where logarithms are straight lines: sd √(0.3² + 0.4² + 0.12²)', () => {
    const values = worlds(([one, two]) => 50 * Math.exp(0.3 * one! - 0.4 * two!));
    // The worlds hold the mean of the scatter: its median is e^(−0.12²/2) below.
    const best = 50 * Math.exp(-(0.12 ** 2) / 2);
    const { p05, p50, p95 } = bandOf(ensemble, { best, values, scatterSd: 0.12 });
    const sd = Math.hypot(0.3, 0.4, 0.12);
    expect(p50).toBe(best);
    expect(p05 / (best * Math.exp(-Z95 * sd))).toBeCloseTo(1, 6);
    expect(p95 / (best * Math.exp(Z95 * sd))).toBeCloseTo(1, 6);
    expect(quantileAt(ensemble, { best, values, scatterSd: 0.12 }, 0)).toBeCloseTo(best, 9);
  });

  it('of a sum of a constant and a log-normal is exact, for one factor decides', () => {
    const values = worlds(([one]) => 10 + 5 * Math.exp(0.45 * one!));
    const { p05, p95 } = bandOf(ensemble, { best: 15, values });
    // The logarithm of it is no exponential of u: what interpolating costs is 0.2 %.
    expect(p05 / (10 + 5 * Math.exp(-0.45 * Z95))).toBeCloseTo(1, 2);
    expect(p95 / (10 + 5 * Math.exp(0.45 * Z95))).toBeCloseTo(1, 2);
  });

  it('never reaches 0, however wide', () => {
    const values = worlds(([one]) => Math.exp(3 * one!));
    expect(bandOf(ensemble, { best: 1, values }).p05).toBeGreaterThan(0);
  });
});

describe('the band of a figure of either sign', () => {
  it('is normal where it is a straight line', () => {
    const values = worlds(([one, , three]) => -2 + 3 * one! + 4 * three!);
    const { p05, p50, p95 } = bandOf(ensemble, { best: -2, values, scatterSd: 12 });
    expect([p05, p50, p95].map((one) => one + 2)).toEqual([
      expect.closeTo(-13 * Z95, 5),
      0,
      expect.closeTo(13 * Z95, 5),
    ]);
  });
});

describe('the band of a figure that is nothing in some world', () => {
  const down = (to: number) => worlds(([one]) => 1 + ((1 - to) * one!) / REACH);

  it('does not fall below nothing where no world does', () => {
    const { p05, p95 } = bandOf(ensemble, { best: 1, values: down(0), scatterSd: 2 });
    expect(p05).toBe(0);
    expect(p95).toBeCloseTo(1 + Z95 * Math.hypot(1 / REACH, 2), 5);
    expect(bandOf(ensemble, { best: 1, values: down(0) }).p05).toBeCloseTo(1 - Z95 / REACH, 5);
  });

  it('does where one is', () => {
    const { p05 } = bandOf(ensemble, { best: 1, values: down(-0.01), scatterSd: 2 });
    expect(p05).toBeCloseTo(1 - Z95 * Math.hypot(1.01 / REACH, 2), 5);
  });
});

it('the best estimate is always in its band, if it is not the median of the worlds', () => {
  const values = worlds(([one]) => 10 * Math.exp(0.1 * one!));
  expect(bandOf(ensemble, { best: 20, values })).toMatchObject({ p50: 20, p95: 20 });
  expect(bandOf(ensemble, { best: 2, values })).toMatchObject({ p05: 2, p50: 2 });
});

it('a figure that nothing moves has no width', () => {
  expect(bandOf(ensemble, { best: 7, values: worlds(() => 7) })).toEqual({ p05: 7, p50: 7, p95: 7 });
  expect(bandOf(ensemble, { best: 0, values: worlds(() => 0) })).toEqual({ p05: 0, p50: 0, p95: 0 });
});

it('scatter that lies ahead widens about the median that each world foresees', () => {
  const values = worlds(([one]) => 40 * Math.exp(0.3 * one!));
  const ahead = withScatterAhead({ best: 40, values }, 0.4);
  const { p05, p95 } = bandOf(ensemble, ahead);
  // √(0.3² + 0.4²) = 0.5 about 40.
  expect(p05 / (40 * Math.exp(-0.5 * Z95))).toBeCloseTo(1, 6);
  expect(p95 / (40 * Math.exp(0.5 * Z95))).toBeCloseTo(1, 6);
});
