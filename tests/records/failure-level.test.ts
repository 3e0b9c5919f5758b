/** The level at which half fail, against fits that share no code with it: weighted draws from the prior, and Newton's method. */
import { lusolve, type Matrix } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { failureLevel, LEVEL_SD, STEEPNESS } from '../../src/records/failure-level.ts';
import { ENOUGH, type Trial } from '../../src/records/inspections.ts';

/** Uniform draws on 0 to 1, the same in every run (mulberry32, from memory). */
function uniforms(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** Standard normals by Box and Muller. */
function normals(uniform: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

const trial = (resinWtPct: number, failed: boolean): Trial => ({ washId: 'w', resinWtPct, failed });
const failing = (resin: number, level: number, steep: number) => 1 / (1 + (level / resin) ** steep);

/** Loads of a shop with a known level: resin evenly spread in its logarithm over 0.2 to 8 wt%. */
function shopTrials(count: number, level: number, steep: number, uniform: () => number): Trial[] {
  return Array.from({ length: count }, () => {
    const resin = 0.2 * 40 ** uniform();
    return trial(resin, uniform() < failing(resin, level, steep));
  });
}

const MIXED = [0.5, 0.8, 1.1, 1.4, 1.9, 2.4, 2.6, 3.1, 3.5, 4.4, 5.2, 6].map((resin, place) =>
  trial(resin, place >= 9 || place === 5 || place === 7),
);

describe('the level at which half fail', () => {
  it('is the prior without results: 1.645 standard deviations of a normal either way (NISTNORMAL)', () => {
    const { p05, p50, p95 } = failureLevel([], 5);
    expect(p50).toBeCloseTo(5, 6);
    expect(p05 / (5 * Math.exp(-1.6449))).toBeCloseTo(1, 2);
    expect(p95 / (5 * Math.exp(1.6449))).toBeCloseTo(1, 2);
  });

  it('agrees with 400 000 draws from the prior, weighted by their likelihood', () => {
    const normal = normals(uniforms(7));
    const draws = Array.from({ length: 400_000 }, () => {
      const level = 5 * Math.exp(LEVEL_SD * normal());
      const steep = STEEPNESS.median * Math.exp(STEEPNESS.sd * normal());
      const weight = MIXED.reduce((product, { resinWtPct, failed }) => {
        const share = failing(resinWtPct, level, steep);
        return product * (failed ? share : 1 - share);
      }, 1);
      return { level, weight };
    }).sort((one, other) => one.level - other.level);
    const total = draws.reduce((sum, { weight }) => sum + weight, 0);
    const at = (share: number) => {
      let sum = 0;
      return draws.find(({ weight }) => {
        sum += weight;
        return sum >= share * total;
      })!.level;
    };
    const found = failureLevel(MIXED, 5);
    expect(Math.abs(found.p05 / at(0.05) - 1)).toBeLessThan(0.02);
    expect(Math.abs(found.p50 / at(0.5) - 1)).toBeLessThan(0.02);
    expect(Math.abs(found.p95 / at(0.95) - 1)).toBeLessThan(0.02);
  });

  it('comes to the plain logistic regression with many results: Newton’s method, error by the delta method', () => {
    const trials = shopTrials(1500, 2.2, 3, uniforms(11));
    const x = trials.map(({ resinWtPct }) => Math.log(resinWtPct));
    const y = trials.map(({ failed }) => (failed ? 1 : 0));
    let [a, b] = [0, 1];
    let information = [
      [1, 0],
      [0, 1],
    ];
    for (let step = 0; step < 25; step += 1) {
      const p = x.map((one) => 1 / (1 + Math.exp(-(a + b * one))));
      const sum = (of: (place: number) => number) => x.reduce((all, _, place) => all + of(place), 0);
      const w = (place: number) => p[place]! * (1 - p[place]!);
      information = [
        [sum(w), sum((i) => w(i) * x[i]!)],
        [sum((i) => w(i) * x[i]!), sum((i) => w(i) * x[i]! ** 2)],
      ];
      const gradient = [sum((i) => y[i]! - p[i]!), sum((i) => (y[i]! - p[i]!) * x[i]!)];
      const move = lusolve(information, gradient) as unknown as Matrix | number[][] as number[][];
      a += move[0]![0]!;
      b += move[1]![0]!;
    }
    // ln θ = −a/b, so its slopes are −1/b and a/b².
    const slopes = [-1 / b, a / b ** 2];
    const solved = lusolve(information, slopes) as unknown as number[][];
    const sd = Math.sqrt(slopes[0]! * solved[0]![0]! + slopes[1]! * solved[1]![0]!);
    const { p05, p50, p95 } = failureLevel(trials, 5);
    expect(Math.abs(Math.log(p50) - -a / b)).toBeLessThan(0.1 * sd);
    expect(Math.log(p95 / p05) / (2 * 1.6449 * sd)).toBeGreaterThan(0.93);
    expect(Math.log(p95 / p05) / (2 * 1.6449 * sd)).toBeLessThan(1.07);
  });

  it('stays finite, and between them, where all that failed lie above all that passed', () => {
    const apart = [0.5, 0.7, 1, 1.3, 1.6]
      .map((one) => trial(one, false))
      .concat([3, 3.5, 4].map((one) => trial(one, true)));
    const { p05, p50, p95 } = failureLevel(apart, 5);
    expect(p50).toBeGreaterThan(1.6);
    expect(p50).toBeLessThan(3);
    expect(p05).toBeGreaterThan(0.5);
    expect(p95).toBeLessThan(6);
  });

  it('is of the unit of what goes in, and knows no order', () => {
    const once = failureLevel(MIXED, 5);
    const tenfold = failureLevel(
      MIXED.map((one) => ({ ...one, resinWtPct: 10 * one.resinWtPct })),
      50,
    );
    for (const key of ['p05', 'p50', 'p95'] as const) expect(tenfold[key] / once[key]).toBeCloseTo(10, 8);
    expect(failureLevel([...MIXED].reverse(), 5).p50).toBeCloseTo(once.p50, 10);
  });

  it('moves up with a load that passed in a dirty bath, and down with one that failed in a clean one', () => {
    const { p50 } = failureLevel(MIXED, 5);
    expect(failureLevel([...MIXED, trial(6, false)], 5).p50).toBeGreaterThan(p50);
    expect(failureLevel([...MIXED, trial(0.5, true)], 5).p50).toBeLessThan(p50);
  });

  it('holds the truth of nine in ten shops drawn from the prior, as many results as are asked for', () => {
    const uniform = uniforms(3);
    const normal = normals(uniform);
    const shops = Array.from({ length: 500 }, () => {
      const level = 5 * Math.exp(LEVEL_SD * normal());
      const steep = STEEPNESS.median * Math.exp(STEEPNESS.sd * normal());
      const trials = shopTrials(ENOUGH.trials, level, steep, uniform);
      const { p05, p95 } = failureLevel(trials, 5);
      const failed = trials.filter((one) => one.failed).length;
      const enough = failed >= ENOUGH.ofEach && trials.length - failed >= ENOUGH.ofEach;
      return { held: level >= p05 && level <= p95, enough, width: Math.log(p95 / p05) };
    });
    const held = shops.filter((one) => one.held).length / shops.length;
    // Two standard errors of a share of 0.9 in 500 are 0.027.
    expect(held).toBeGreaterThan(0.87);
    expect(held).toBeLessThan(0.94);
    const told = shops.filter(({ enough }) => enough);
    const width = Math.exp(told.reduce((sum, one) => sum + one.width, 0) / told.length);
    // What the comment at ENOUGH says: about 6, where the prior alone spans 27.
    expect(width).toBeGreaterThan(5);
    expect(width).toBeLessThan(7);
  });
});
