import fc from 'fast-check';
import { expect, it } from 'vitest';
import { plainDecimal } from '../../src/ledger/plain-decimal.ts';

it('writes every finite number without an exponent and loses nothing', () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      expect(plainDecimal(value)).toMatch(/^-?\d+(\.\d+)?$/);
      expect(Number(plainDecimal(value))).toBe(value === 0 ? 0 : value);
    }),
  );
});

it.each([
  [1e-7, '0.0000001'],
  [1.5e-10, '0.00000000015'],
  [1e21, '1000000000000000000000'],
  [1.25e22, '12500000000000000000000'],
  [-0, '0'],
  [4000, '4000'],
])('writes %d as %s', (value, written) => {
  expect(plainDecimal(value)).toBe(written);
});
