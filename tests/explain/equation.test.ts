import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equation, figures } from '../../src/explain/equation.ts';
import { calculated, halfOfLastDigit, shown } from './calculator.ts';

const term = (symbol: string, value: number) =>
  ({ symbol, value, unit: '', about: symbol, basis: 'default' }) as const;

describe('an equation', () => {
  it('shows as many digits as its result needs, so that a calculator gives the same', () => {
    const size = fc.double({ min: 1e-4, max: 5000, noNaN: true });
    fc.assert(
      fc.property(size, size, size, fc.integer({ min: 0, max: 40 }), (a, b, c, n) => {
        const formula = 'a × (b + n) / c − a';
        const value = (a * (b + n)) / c - a;
        const one = equation({
          about: 'x',
          symbol: 'x',
          formula,
          value,
          unit: 'g',
          terms: [term('a', a), term('b', b), term('c', c), term('n', n)],
          sources: [],
        });
        // What is left of two numbers that are nearly the same is known to their own last binary digits (IEEE 754, 53 of them).
        const rounding = 16 * Number.EPSILON * (Math.abs((a * (b + n)) / c) + a);
        expect(Math.abs(calculated(one.numbers) - shown(one.result))).toBeLessThanOrEqual(
          halfOfLastDigit(one.result) + 1e-9 * Math.abs(value) + rounding,
        );
      }),
    );
  });

  it('keeps whole numbers whole', () => {
    const { numbers } = equation({
      about: 'x',
      symbol: 'x',
      formula: 'a / b',
      value: 12_345 / 7.654_321,
      unit: '',
      terms: [term('a', 12_345), term('b', 7.654_321)],
      sources: [],
    });
    // 12345/7.65 is 1613.7, and 12345/7.654321 is 1612.8: shown as 1613
    expect(numbers).toBe('12345 / 7.654');
  });

  it.each([
    [0, 3, '0'],
    [1234.5, 3, '1235'],
    [99.96, 3, '100.0'],
    [9.996, 3, '10.00'],
    [0.012_345, 3, '0.0123'],
    [-0.5, 2, '−0.50'],
    [0.000_000_123, 2, '0.00000012'],
  ])('writes %d with %d figures as %s', (value, digits, text) => {
    expect(figures(value, digits)).toBe(text);
  });

  it('has as many digits as a difference of two numbers needs that hardly differ', () => {
    // What is left of 22.8 mg after 13 minutes in ultrasound: e^(−21.7) of it.
    const a = 0.02281770048348;
    const b = a * (1 - Math.exp(-13 / 0.6));
    const { numbers, result } = equation({
      about: 'left',
      symbol: 'u',
      formula: 'a − b',
      value: a - b,
      unit: 'g',
      terms: [term('a', a), term('b', b)],
      sources: [],
    });
    const [first, second] = numbers.split(' − ').map(Number);
    expect((first! - second!).toPrecision(3)).toBe(Number(result).toPrecision(3));
  });
});
