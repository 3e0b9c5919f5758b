import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { along, bendThrough, curvature, heldShift, isFlat, REACH, slope } from '../../src/belief/bend.ts';

/** Steps that differ by less than the steepest curve allows, e⁵. */
const size = fc.double({ min: 0.02, max: 2, noNaN: true });
const sign = fc.constantFrom(-1, 1);
const place = fc.double({ min: -4, max: 4, noNaN: true });

describe('a curve through three points', () => {
  it('lies where the nodes of the three-point Gauss–Hermite rule are', () => {
    // The zeros of the third Hermite polynomial u³ − 3u.
    expect(REACH ** 3 - 3 * REACH).toBeCloseTo(0, 12);
  });

  it('passes all three, whatever they are', () => {
    fc.assert(
      fc.property(size, sign, size, sign, (below, sideBelow, above, sideAbove) => {
        const bend = bendThrough(sideBelow * below, sideAbove * above);
        // Steps that are alike to five digits are taken for a line.
        const near = Math.abs(above / below - 1) < 2e-5 ? 2e-5 * above : 1e-12;
        expect(Math.abs(along(bend, 0))).toBe(0);
        expect(Math.abs(along(bend, REACH) - sideAbove * above)).toBeLessThan(near);
        expect(Math.abs(along(bend, -REACH) + sideBelow * below)).toBeLessThan(near);
      }),
    );
  });

  it('is exact for y = a (κ − 1) with ln κ = s u', () => {
    fc.assert(
      fc.property(sign, fc.double({ min: 0.1, max: 3, noNaN: true }), size, place, (side, a, s, u) => {
        const spread = side * s;
        const y = (at: number) => a * Math.expm1(spread * at);
        const bend = bendThrough(-y(-REACH), y(REACH));
        expect(Math.abs(along(bend, u) - y(u))).toBeLessThanOrEqual(1e-9 * Math.abs(y(u)));
        expect(slope(bend, u) / (a * spread * Math.exp(spread * u))).toBeCloseTo(1, 9);
        expect(curvature(bend, u) / (a * spread ** 2 * Math.exp(spread * u))).toBeCloseTo(1, 9);
      }),
      { examples: [[1, 2, 0.45, 0.5]] },
    );
  });

  it('is a straight line where the steps are alike: above 2, below 2 gives 2u/√3', () => {
    const bend = bendThrough(2, 2);
    for (const u of [-3, -1, 0.5, 4]) {
      expect(along(bend, u)).toBeCloseTo(1.1547 * u, 4);
      expect(slope(bend, u)).toBeCloseTo(1.1547, 4);
      expect(curvature(bend, u)).toBe(0);
    }
  });

  it('does not jump where the exponential gives way to the line', () => {
    // y = 2/√3 u + O(ε): steps 2 and 2 (1 + ε) on both sides of the change.
    for (const off of [0.9e-5, 1.1e-5, -0.9e-5, -1.1e-5])
      for (const u of [-3, 3]) expect(along(bendThrough(2, 2 * (1 + off)), u)).toBeCloseTo(1.1547005 * u, 3);
  });

  it('is the parabola through the points where it turns, level from twice the reach', () => {
    // y = 0.3 u + 0.5 u²: by the definition of the points at ±√3.
    const y = (u: number) => 0.3 * u + 0.5 * u * u;
    const bend = bendThrough(-y(-REACH), y(REACH));
    for (const u of [-3, -1, 0.5, 2]) {
      expect(along(bend, u)).toBeCloseTo(y(u), 12);
      expect(slope(bend, u)).toBeCloseTo(0.3 + u, 12);
      expect(curvature(bend, u)).toBeCloseTo(1, 12);
    }
    expect(along(bend, 5)).toBeCloseTo(y(2 * REACH), 12);
    expect(slope(bend, 5)).toBe(0);
    expect(curvature(bend, 5)).toBe(0);
  });

  it('is a half parabola where one step is nothing', () => {
    const bend = bendThrough(0, 3);
    // (√3 u + u²)/2 is 0 at −√3 and at 0, and 3 at √3.
    for (const u of [-2, -1, 1, 2]) expect(along(bend, u)).toBeCloseTo((REACH * u + u * u) / 2, 12);
  });

  it('never turns where the steps agree', () => {
    fc.assert(
      fc.property(sign, size, size, place, place, (side, below, above, one, other) => {
        const bend = bendThrough(side * below, side * above);
        fc.pre(Math.abs(one - other) > 1e-3);
        const rise = (along(bend, one) - along(bend, other)) / (one - other);
        expect(Math.sign(rise)).toBe(side);
        expect(Math.sign(slope(bend, one))).toBe(side);
      }),
    );
  });

  it('tells its slope and curvature as differences of itself do', () => {
    fc.assert(
      fc.property(size, sign, size, sign, fc.double({ min: -2, max: 2, noNaN: true }), (b, sb, a, sa, u) => {
        const bend = bendThrough(sb * b, sa * a);
        const step = 1e-4;
        const [low, high] = [along(bend, u - step), along(bend, u + step)];
        expect(slope(bend, u)).toBeCloseTo((high - low) / (2 * step), 4);
        expect(curvature(bend, u)).toBeCloseTo((high - 2 * along(bend, u) + low) / step ** 2, 3);
      }),
    );
  });

  it('is flat when nothing answers', () => {
    expect(isFlat(bendThrough(0, 0))).toBe(true);
    expect(isFlat(bendThrough(1e-6, 1e-6))).toBe(false);
    expect(isFlat(bendThrough(1e-6, -1e-6))).toBe(false);
    expect(isFlat(bendThrough(1e-6, 3e-6))).toBe(false);
  });

  it('followed far out says no more than a thousand times as much or as little', () => {
    for (const shift of [-6, 0, 3.2]) expect(heldShift(shift)).toBe(shift);
    for (const shift of [9, 1e6, Number.POSITIVE_INFINITY]) {
      expect(Math.exp(heldShift(shift))).toBeCloseTo(1096.6, 1);
      expect(Math.exp(heldShift(-shift)) * 1096.6).toBeCloseTo(1, 3);
    }
  });

  it('of steps a drying bath makes is held at e⁵ between them, and still meets the larger one', () => {
    const bend = bendThrough(1e-6, 4);
    expect(along(bend, REACH)).toBeCloseTo(4, 9);
    expect(Number.isFinite(along(bend, -REACH))).toBe(true);
    expect(slope(bend, -REACH)).toBeGreaterThan(0);
    // The same the other way round, e^(−5) of it on the lesser side; falling, too.
    const dried = bendThrough(4, 1e-6);
    expect(along(dried, -REACH)).toBeCloseTo(-4, 9);
    expect(along(dried, REACH)).toBeCloseTo(4 * Math.exp(-5), 9);
    expect(along(bendThrough(-4, -1e-6), -REACH)).toBeCloseTo(4, 9);
  });
});
