import { unit } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { inKeyUnit } from '../../src/ledger/units.ts';

describe('a quantity typed with its unit, as the number its key wants', () => {
  // A unit library says how much one of each holds; it knows no °C without a zero, and no share.
  it.each<[string, string, string, string]>([
    ['mL', 'mL', 'ml', 'ml'],
    ['mL', 'cl', 'cl', 'ml'],
    ['mL', 'dL', 'dl', 'ml'],
    ['mL', 'L', 'l', 'ml'],
    ['mL', 'gal', 'gallon', 'ml'],
    ['L', 'L', 'l', 'l'],
    ['L', 'ml', 'ml', 'l'],
    ['L', 'gal', 'gallon', 'l'],
    ['g', 'g', 'g', 'g'],
    ['g', 'mg', 'mg', 'g'],
    ['g', 'kg', 'kg', 'g'],
    ['minutes', 'min', 'minute', 'minute'],
    ['minutes', 'minutes', 'minute', 'minute'],
    ['minutes', 'minute', 'minute', 'minute'],
    ['minutes', 'm', 'minute', 'minute'],
    ['minutes', 's', 'second', 'minute'],
    ['minutes', 'h', 'hour', 'minute'],
    ['minutes', 'hour', 'hour', 'minute'],
    ['minutes', 'hours', 'hour', 'minute'],
    ['hours a day', 'h', 'hour', 'hour'],
    ['hours a day', 'min', 'minute', 'hour'],
    ['mm', 'mm', 'mm', 'mm'],
    ['mm', 'cm', 'cm', 'mm'],
    ['mm', 'm', 'm', 'mm'],
    ['cm²', 'cm2', 'cm^2', 'cm^2'],
    ['cm²', 'mm2', 'mm^2', 'cm^2'],
    ['cm²', 'cm²', 'cm^2', 'cm^2'],
    ['cm²', 'mm²', 'mm^2', 'cm^2'],
  ])('%s of %s', (base, typed, theirs, wanted) => {
    const grown = Number(inKeyUnit(`4.5 ${typed}`, `above 0 to 100 ${base}`));
    // The library rounds a gallon to five digits; the next test holds it exactly.
    expect(grown / unit(4.5, theirs).toNumber(wanted)).toBeCloseTo(1, 5);
  });

  it('holds a US gallon for 231 cubic inches of 2.54 cm exactly (NIST Handbook 44, appendix C, from memory)', () => {
    expect(Number(inKeyUnit('1 gal', 'up to 1 mL'))).toBeCloseTo(231 * 2.54 ** 3, 9);
    expect(Number(inKeyUnit('1 gal', 'up to 1 L'))).toBeCloseTo((231 * 2.54 ** 3) / 1000, 12);
  });

  it.each([
    ['22 °C', '10 to 40 °C', '22'],
    ['22C', '10 to 40 °C', '22'],
    ['-5 °C', '-30 to 60 °C', '-5'],
    ['50%', '0 to 100 %', '50'],
    ['99 %', '40 to 100 wt%', '99'],
    ['99 wt%', '40 to 100 wt%', '99'],
    ['99 %', '47.4 to 100 vol%', '99'],
    ['99 vol%', '47.4 to 100 vol%', '99'],
    // Binary fractions do not show: 0.1 + 0.2 is no such number, nor is 4.1 × 0.001.
    ['4.1 mL', 'up to 1 L', '0.0041'],
    ['  4   L ', 'above 0 to 1000000 mL', '4000'],
  ])('%j with %s is %s', (typed, allowed, wanted) => {
    expect(inKeyUnit(typed, allowed)).toBe(wanted);
  });

  it.each([
    ['4', 'above 0 to 1000000 mL'],
    ['L', 'above 0 to 1000000 mL'],
    ['4 L each', 'above 0 to 1000000 mL'],
    ['about 4 L', 'above 0 to 1000000 mL'],
    ['4 furlongs', 'above 0 to 1000000 mL'],
    ['4. L', 'above 0 to 1000000 mL'],
    ['4 L', 'above 0 to 10000 g'],
    ['4 L', 'true or false'],
    ['99 vol%', '40 to 100 wt%'],
    ['99 wt%', '0 to 100 %'],
  ])('%j with %s cannot be told', (typed, allowed) => {
    expect(inKeyUnit(typed, allowed)).toBeUndefined();
  });
});
