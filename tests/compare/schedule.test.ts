import { erf } from 'mathjs';
import { mersenne } from 'pure-rand/generator/mersenne';
import { describe, expect, it } from 'vitest';
import { drawer, normal, scheduleOf, YEAR_DAYS } from '../../src/compare/schedule.ts';
import { covarianceOf, meanOf, sdOf } from '../belief/bench.ts';

const PER_DAY = [0, 2.4, 3, 0.5, 1, 4.9, 0.05];
const years = Array.from({ length: 25 }, (_, one) =>
  scheduleOf({ seed: 11 + one, perDay: PER_DAY, loads: 7 }),
);
/** Four standard errors: one in 16 000 by chance, and the seeds are fixed. */
const FAR = 4;

/** Largest distance of a sample from the standard normal distribution (Kolmogorov). */
function distanceFromNormal(sample: readonly number[]): number {
  const sorted = sample.toSorted((one, other) => one - other);
  return Math.max(
    ...sorted.map((value, place) => {
      const below = (1 + erf(value / Math.SQRT2)) / 2;
      return Math.max(below - place / sorted.length, (place + 1) / sorted.length - below);
    }),
  );
}

describe('the source of chance', () => {
  it('is the Mersenne twister of the C++ standard: [rand.predef] gives output 10 000 of seed 5489', () => {
    const source = mersenne(5489);
    let output = 0;
    for (let one = 0; one < 10_000; one += 1) output = source.next();
    expect(output >>> 0).toBe(4_123_659_995);
  });

  it('is even from 0 up to 1, and so are the first numbers of seeds that follow each other', () => {
    const draw = drawer(3);
    const samples = [
      Array.from({ length: 50_000 }, () => draw()),
      Array.from({ length: 50_000 }, (_, seed) => drawer(1_000_003 + seed)()),
    ];
    for (const sample of samples) {
      const bins = Array.from({ length: 100 }, () => 0);
      for (const value of sample) bins[Math.floor(100 * value)]! += 1;
      const chiSquare = bins.reduce((sum, found) => sum + (found - 500) ** 2 / 500, 0);
      // 99 degrees of freedom: mean 99, standard deviation √198.
      expect(Math.abs(chiSquare - 99)).toBeLessThan(FAR * Math.sqrt(198));
      expect(Math.min(...sample)).toBeGreaterThanOrEqual(0);
      expect(Math.max(...sample)).toBeLessThan(1);
    }
  });

  it('is normal after Box and Muller, each number independent of the next', () => {
    const draw = drawer(5);
    const sample = Array.from({ length: 40_000 }, () => normal(draw));
    // Kolmogorov: 2.2/√n is passed once in 8 000 times.
    expect(distanceFromNormal(sample)).toBeLessThan(2.2 / Math.sqrt(sample.length));
    expect(Math.abs(covarianceOf(sample.slice(1), sample.slice(0, -1)))).toBeLessThan(FAR / 200);
  });
});

describe('a year of washes', () => {
  it('has the loads of each weekday on average, one less or more on each day', () => {
    PER_DAY.forEach((mean, weekday) => {
      const found = years.flatMap(({ starts }) =>
        Array.from(
          { length: 52 },
          (_, week) => starts[7 * week + weekday + 1]! - starts[7 * week + weekday]!,
        ),
      );
      for (const loads of found) expect([Math.floor(mean), Math.ceil(mean)]).toContain(loads);
      const rest = mean - Math.floor(mean);
      // Binomial: one more with the chance of the rest.
      const error = Math.sqrt((rest * (1 - rest)) / found.length);
      expect(Math.abs(meanOf(found) - mean)).toBeLessThanOrEqual(FAR * error);
    });
  });

  it('has every recent load as often as the others, on all its days', () => {
    const counts = Array.from({ length: 7 }, () => 0);
    for (const { load } of years) for (const kind of load) counts[kind]! += 1;
    const all = counts.reduce((sum, one) => sum + one, 0);
    const error = Math.sqrt(all * (1 / 7) * (6 / 7));
    for (const found of counts) expect(Math.abs(found - all / 7)).toBeLessThan(FAR * error);
  });

  it('scatters every load log-normally, median 1 and standard deviation 0.25 (MODEL 6)', () => {
    const logs = years.flatMap(({ scatter }) => [...scatter].map((one) => Math.log(one) / 0.25));
    const many = logs.length;
    expect(many).toBeGreaterThan(10_000);
    expect(Math.abs(meanOf(logs))).toBeLessThan(FAR / Math.sqrt(many));
    expect(Math.abs(sdOf(logs) - 1)).toBeLessThan(FAR / Math.sqrt(2 * many));
    expect(distanceFromNormal(logs)).toBeLessThan(2.2 / Math.sqrt(many));
  });

  it('is whole: a place for each day, a load and a scatter for each wash', () => {
    for (const { starts, load, scatter } of years) {
      expect(starts).toHaveLength(YEAR_DAYS + 1);
      expect(starts[0]).toBe(0);
      expect(load).toHaveLength(starts[YEAR_DAYS]!);
      expect(scatter).toHaveLength(load.length);
    }
  });

  it('is the same from the same seed, and another from another', () => {
    const again = scheduleOf({ seed: 11, perDay: PER_DAY, loads: 7 });
    expect(Buffer.from(again.scatter.buffer).equals(Buffer.from(years[0]!.scatter.buffer))).toBe(true);
    expect(again).toEqual(years[0]);
    expect(years[1]!.scatter.slice(0, 5)).not.toEqual(years[0]!.scatter.slice(0, 5));
  });

  it('without a load is an empty year', () => {
    const { starts, load } = scheduleOf({ seed: 1, perDay: [0, 0, 0, 0, 0, 0, 0], loads: 1 });
    expect(starts[YEAR_DAYS]).toBe(0);
    expect(load).toHaveLength(0);
  });
});
