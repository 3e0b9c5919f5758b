import { expect, it } from 'vitest';
import { resinDensity } from '../../src/substance/resin.ts';

it('a resin of 1.11 g/mL at 20 °C is 1.1061 g/mL at 25 °C', () => {
  expect(resinDensity(1.11, 20)).toBe(1.11);
  expect(resinDensity(1.11, 25)).toBeCloseTo(1.1061, 4);
});
