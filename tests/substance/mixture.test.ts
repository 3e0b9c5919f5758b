import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ipaDensity } from '../../src/substance/isopropanol.ts';
import {
  fractionFromDensity,
  fractionFromVolume,
  mixtureDensity,
  mixtureDensityUnchecked,
  volumeFraction,
} from '../../src/substance/mixture.ts';
import { OutsideData } from '../../src/substance/outside.ts';

const fraction = fc.double({ min: 0.4, max: 1, noNaN: true });
const tempC = fc.double({ min: 10, max: 40, noNaN: true });

describe('mixtureDensity', () => {
  it('gives the golden values of the formula', () => {
    expect(Math.abs(mixtureDensity(0.9, 20) - 0.811049)).toBeLessThan(2e-6);
    expect(Math.abs(mixtureDensity(0.7, 25) - 0.85498)).toBeLessThan(2e-6);
    expect(Math.abs(mixtureDensity(0.995, 22) - 0.784844)).toBeLessThan(2e-6);
  });

  it('at 89.84 wt% and 25 °C is within 0.0005 of the measured 0.8069 (CHU1962)', () => {
    expect(mixtureDensity(0.8984, 25)).toBeCloseTo(0.8072, 4);
    expect(Math.abs(mixtureDensity(0.8984, 25) - 0.8069)).toBeLessThan(0.0005);
  });

  it('ends at dry isopropanol', () => {
    fc.assert(fc.property(tempC, (t) => Math.abs(mixtureDensity(1, t) - ipaDensity(t)) < 1e-12));
  });

  it('falls with the strength and with the temperature', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.4, max: 0.99, noNaN: true }),
        fc.double({ min: 10, max: 39, noNaN: true }),
        (w, t) =>
          mixtureDensity(w + 0.01, t) < mixtureDensity(w, t) &&
          mixtureDensity(w, t + 1) < mixtureDensity(w, t),
      ),
    );
  });

  it.each([
    [0.39, 20, 'IPA strength', 40, 100],
    [1.01, 20, 'IPA strength', 40, 100],
    [Number.NaN, 20, 'IPA strength', 40, 100],
    [0.9, 9.9, 'temperature', 10, 40],
    [0.9, 40.1, 'temperature', 10, 40],
    [0.9, Number.NaN, 'temperature', 10, 40],
  ])('refuses %f at %f °C and says the range of the %s', (w, t, quantity, low, high) => {
    const refusal = refusalOf(() => mixtureDensity(w, t));
    expect(refusal).toMatchObject({ name: 'OutsideData', quantity, low, high });
  });

  it('is the same with and without the guard', () => {
    fc.assert(fc.property(fraction, tempC, (w, t) => mixtureDensity(w, t) === mixtureDensityUnchecked(w, t)));
  });
});

describe('volumeFraction', () => {
  it('of the azeotrope, 87.9 wt%, is 91.4 vol% at 20 °C (MODEL)', () => {
    expect(volumeFraction(0.879, 20) * 100).toBeCloseTo(91.4, 1);
  });
  it('is above the fraction by mass, since isopropanol is the lighter', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.4, max: 0.999, noNaN: true }),
        tempC,
        (w, t) => volumeFraction(w, t) > w,
      ),
    );
  });
});

describe('fractionFromVolume', () => {
  it('takes back what volumeFraction gave', () => {
    fc.assert(
      fc.property(
        fraction,
        tempC,
        (w, t) => Math.abs(fractionFromVolume(volumeFraction(w, t), t) - w) < 1e-12,
      ),
    );
  });
  it('of 91 vol%, the azeotropic grade, is 87.4 wt% (USP28)', () => {
    expect(fractionFromVolume(0.91, 20) * 100).toBeCloseTo(87.4, 1);
  });
  it('refuses what lies below 40 wt% or above dry', () => {
    expect(refusalOf(() => fractionFromVolume(0.4, 20))).toMatchObject({ unit: 'vol%', high: 100 });
    expect(refusalOf(() => fractionFromVolume(1.001, 20))).toMatchObject({ unit: 'vol%' });
    expect(refusalOf(() => fractionFromVolume(0.9, 45))).toMatchObject({ quantity: 'temperature' });
  });
});

describe('fractionFromDensity', () => {
  it('takes back what mixtureDensity gave', () => {
    fc.assert(
      fc.property(
        fraction,
        tempC,
        (w, t) => Math.abs(fractionFromDensity(mixtureDensity(w, t), t) - w) < 1e-9,
      ),
    );
  });
  it('of 0.8069 g/mL at 25 °C is within 0.3 wt% of the 89.84 that were weighed (CHU1962)', () => {
    expect(fractionFromDensity(0.8069, 25) * 100).toBeCloseTo(89.96, 1);
    expect(Math.abs(fractionFromDensity(0.8069, 25) * 100 - 89.84)).toBeLessThan(0.3);
  });
  it('refuses densities of no mixture, and says which there are', () => {
    expect(refusalOf(() => fractionFromDensity(0.78, 20))).toMatchObject({
      quantity: 'density',
      low: 0.7852,
    });
    expect(refusalOf(() => fractionFromDensity(0.95, 20))).toMatchObject({
      quantity: 'density',
      unit: 'g/mL',
    });
    expect(refusalOf(() => fractionFromDensity(0.8, 5))).toMatchObject({ quantity: 'temperature' });
  });
});

function refusalOf(act: () => unknown): OutsideData {
  try {
    act();
  } catch (error) {
    if (error instanceof OutsideData) return error;
    throw error;
  }
  throw new Error('was not refused');
}
