import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addSpread, count, emptySpread, quantileOf } from '../../src/compare/spread.ts';
import { gap } from '../published/table.ts';

/** Half of the bins' 0.5 %, and rounding. */
const HALF_BIN = 0.0026;

function spreadOf(values: readonly number[]): Uint32Array {
  const spread = emptySpread();
  for (const value of values) count(spread, value);
  return spread;
}

/** The least value with at least `share` of all at or below it. */
function bySorting(values: readonly number[], share: number): number {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted.find((_, place) => place + 1 >= share * sorted.length)!;
}

const positive = fc.double({ min: -6, max: 6, noNaN: true }).map((power) => 10 ** power);
const list = fc.array(positive, { minLength: 1, maxLength: 200 });
const share = fc.double({ min: 0.001, max: 1, noNaN: true });

describe('a spread', () => {
  it('has the quantiles of the sorted values, to half a bin', () => {
    fc.assert(
      fc.property(list, share, (values, at) => {
        expect(gap(quantileOf(spreadOf(values), at), bySorting(values, at))).toBeLessThan(HALF_BIN);
      }),
    );
  });

  it('is the same in parts as in one', () => {
    fc.assert(
      fc.property(list, list, (some, others) => {
        const sum = spreadOf(some);
        addSpread(sum, spreadOf(others));
        expect(sum).toEqual(spreadOf([...some, ...others]));
      }),
    );
  });

  it('takes in whatever it is given', () => {
    const odd = fc.oneof(fc.double(), fc.constantFrom(0, -1, Number.NaN, Infinity, 5e-324, 1e-9, 1e300));
    fc.assert(
      fc.property(fc.array(odd, { minLength: 1 }), share, (values, at) => {
        const spread = spreadOf(values);
        expect(spread.reduce((sum, one) => sum + one, 0)).toBe(values.length);
        expect(quantileOf(spread, at)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it('has no quantile before anything was counted', () => {
    expect(quantileOf(emptySpread(), 0.95)).toBeNaN();
  });

  it('tells nothing and next to nothing as 0', () => {
    expect(quantileOf(spreadOf([0, 0, 1e-9]), 0.95)).toBe(0);
    expect(quantileOf(spreadOf([0, 0, 3]), 0.95)).toBeCloseTo(3, 1);
    expect(quantileOf(spreadOf([0, 0, 3]), 0.6)).toBe(0);
  });

  it('tells what is beyond its upper end as that end, never as less', () => {
    expect(gap(quantileOf(spreadOf([Infinity, 1e300]), 0.5), 1e7)).toBeLessThan(0.01);
  });
});
