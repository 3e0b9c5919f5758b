import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { along, type Bend, bendThrough, REACH } from '../../src/belief/bend.ts';
import { quantileShift, Z75, Z95 } from '../../src/belief/quantile.ts';
import { normalFrom, sampleQuantile, sdOf } from './bench.ts';

const line = (slope: number): Bend => bendThrough(slope * REACH, slope * REACH);
/** y = a (κ − 1), ln κ = s u. */
const logNormal = (a: number, s: number): Bend =>
  bendThrough(-a * Math.expm1(-s * REACH), a * Math.expm1(s * REACH));

/** The distribution function of a standard normal by Simpson's rule over its density. */
function normalShareBelow(z: number): number {
  const steps = 2000;
  const width = z / steps;
  let sum = 0;
  for (let at = 0; at <= steps; at += 1) {
    const weight = at === 0 || at === steps ? 1 : at % 2 === 1 ? 4 : 2;
    sum += weight * Math.exp(-((at * width) ** 2) / 2);
  }
  return 0.5 + (sum * width) / 3 / Math.sqrt(2 * Math.PI);
}

describe('the quantiles of a normal', () => {
  it('leave 5 and 25 % beyond, by quadrature of its density', () => {
    expect(normalShareBelow(Z95)).toBeCloseTo(0.95, 12);
    expect(normalShareBelow(Z75)).toBeCloseTo(0.75, 12);
  });
});

describe('quantiles of a sum', () => {
  it('of straight lines are z times its standard deviation: slopes 3 and 4 make 5', () => {
    expect(quantileShift([line(3), line(4)], 0, 1.645)).toBeCloseTo(5 * 1.645, 9);
    expect(quantileShift([line(3), line(-4)], 12, -1)).toBeCloseTo(-13, 9);
    expect(quantileShift([], 2, Z95)).toBeCloseTo(2 * Z95, 9);
  });

  it('of any lines, at any z', () => {
    const slope = fc.double({ min: -5, max: 5, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(slope, { minLength: 1, maxLength: 6 }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (slopes, extra, z) => {
          const sd = Math.sqrt(slopes.reduce((sum, one) => sum + one * one, extra * extra));
          expect(quantileShift(slopes.map(line), extra, z)).toBeCloseTo(z * sd, 6);
        },
      ),
    );
  });

  it('of one curve alone are those of what decides it: a (e^(s z) − 1)', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(-2, -1, 1, 3),
        fc.double({ min: 0.05, max: 2, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        (a, s, z) => {
          // A figure that falls as the factor grows has its high quantile where the factor is low.
          const wanted = a * Math.expm1(s * z * Math.sign(a));
          const found = quantileShift([logNormal(a, s)], 0, z);
          expect(Math.abs(found - wanted)).toBeLessThanOrEqual(1e-6 * Math.abs(a) * (1 + Math.abs(wanted)));
        },
      ),
    );
  });

  it('are nothing where nothing answers', () => {
    expect(quantileShift([line(0), line(0)], 0, Z95)).toBe(0);
    expect(quantileShift([], 0, -Z95)).toBe(0);
  });

  it('are the other way round for the figure with its sign changed', () => {
    const steps = fc.double({ min: 0.02, max: 3, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(steps, steps), { minLength: 1, maxLength: 5 }), (pairs) => {
        const up = pairs.map(([below, above]) => bendThrough(below, above));
        const down = pairs.map(([below, above]) => bendThrough(-below, -above));
        const high = quantileShift(up, 0.3, Z95);
        expect(quantileShift(down, 0.3, -Z95)).toBeCloseTo(-high, 5);
      }),
    );
  });
});

/** Y = Σ y_j(u_j) + s v drawn 400 000 times: its 5 and 95 % points known to 0.006 of its standard deviation. */
function drawn(bends: readonly Bend[], extraSd: number): Float64Array {
  const normal = normalFrom(11);
  return Float64Array.from({ length: 400_000 }, () =>
    bends.reduce((sum, bend) => sum + along(bend, normal()), extraSd * normal()),
  ).sort();
}

/** How far the 5, 25, 50, 75 and 95 % points are off, in standard deviations of the sample. */
function deviations(bends: readonly Bend[], extraSd: number): number[] {
  const sample = drawn(bends, extraSd);
  const sd = sdOf(Array.from(sample));
  const points: [number, number][] = [
    [-Z95, 0.05],
    [-Z75, 0.25],
    [0, 0.5],
    [Z75, 0.75],
    [Z95, 0.95],
  ];
  return points.map(([z, share]) => (quantileShift(bends, extraSd, z) - sampleQuantile(sample, share)) / sd);
}

describe('quantiles of a sum of curves, against 400 000 draws', () => {
  // Spreads as the factors have them, 0.25 to 0.7. Measured: 0.01 at most; 0.02 with a curve that turns.
  it.each<[string, Bend[], number]>([
    ['carry-over and drag-out against each other', [logNormal(1, 0.45), logNormal(-0.6, 0.5)], 0],
    ['one curve and the scatter of washes', [logNormal(1, 0.45)], 0.3],
    ['evaporation that flattens', [logNormal(-1, -0.7), logNormal(0.5, 0.45)], 0],
    ['a curve and one that turns', [logNormal(1, 0.45), bendThrough(-0.15, 0.1)], 0.1],
    ['curves of a logarithm, nearly straight', [bendThrough(0.7, 0.85), bendThrough(0.3, 0.22)], 0.1],
  ])('%s: within 0.03 of its standard deviation', (_, bends, extra) => {
    for (const off of deviations(bends, extra)) expect(Math.abs(off)).toBeLessThan(0.03);
  });

  // The worst for a rule of second order; bands are taken on a logarithmic scale, where curves are far straighter.
  it.each<[string, Bend[]]>([
    ['a strong one and two weak', [logNormal(1, 0.5), logNormal(0.2, 0.7), logNormal(-0.1, 0.35)]],
    ['two equal', [logNormal(1, 0.45), logNormal(1, 0.45)]],
    ['three equal', [logNormal(1, 0.4), logNormal(1, 0.4), logNormal(1, 0.4)]],
  ])('%s log-normals added: low by 0.05 to 0.07 at the upper end, elsewhere within 0.03', (_, bends) => {
    const off = deviations(bends, 0);
    for (const one of off.slice(0, 4)) expect(Math.abs(one)).toBeLessThan(0.03);
    expect(Math.abs(off[4]!)).toBeLessThan(0.08);
  });
});
