import { describe, expect, it } from 'vitest';
import { isWithin, rangeText } from '../../src/ledger/range.ts';

describe('a range', () => {
  it('is told in words', () => {
    expect(rangeText({ unit: '°C', min: 10, max: 40 })).toBe('10 to 40 °C');
    expect(rangeText({ unit: 'mL', above: 0, max: 1000 })).toBe('above 0, up to 1000 mL');
    expect(rangeText({ unit: '', min: 1, max: 500 })).toBe('1 to 500');
    expect(rangeText({ unit: '', above: 0, max: 1 })).toBe('above 0, up to 1');
  });

  it('has its ends, but for one that is to be exceeded', () => {
    const [closed, open, bare] = [
      { unit: '', min: 10, max: 40 },
      { unit: '', above: 0, max: 5 },
      { unit: '', max: 5 },
    ];
    expect([9.99, 10, 40, 40.01].map((value) => isWithin(value, closed))).toEqual([false, true, true, false]);
    expect([0, 1e-9, 5, 5.1].map((value) => isWithin(value, open))).toEqual([false, true, true, false]);
    expect([-1e-9, 0, 5].map((value) => isWithin(value, bare))).toEqual([false, true, true]);
    for (const value of [Number.NaN, '12', null, undefined, [12], Number.POSITIVE_INFINITY])
      expect(isWithin(value, closed)).toBe(false);
  });
});
