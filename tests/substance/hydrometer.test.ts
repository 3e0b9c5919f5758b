import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  densityFromSg,
  glassCorrected,
  SG_REFERENCES,
  type SgReference,
  sgFromDensity,
} from '../../src/substance/hydrometer.ts';

const REFERENCES = Object.keys(SG_REFERENCES) as SgReference[];

describe('densityFromSg', () => {
  // Density of water at the reference, TANAKA2001.
  it.each([
    ['20/20', 0.998207],
    ['25/25', 0.997047],
    ['60/60F', 0.999017],
  ] as const)('of 1 on the %s scale is water, %f g/mL', (reference, expected) => {
    expect(Math.abs(densityFromSg(1, reference) - expected)).toBeLessThan(1e-6);
  });
  it('of SG 20/20 0.7866 is dry isopropanol, 0.7852 g/mL (FITQUAD)', () => {
    expect(densityFromSg(0.7866, '20/20')).toBeCloseTo(0.7852, 4);
  });
  it('is taken back by sgFromDensity', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...REFERENCES),
        fc.double({ min: 0.75, max: 1, noNaN: true }),
        (scale, sg) => {
          return Math.abs(sgFromDensity(densityFromSg(sg, scale), scale) - sg) < 1e-14;
        },
      ),
    );
  });
});

describe('glassCorrected', () => {
  it('of 0.8000 at 30 °C on a glass made for 20 °C is 0.7998 (ISO1768)', () => {
    expect(glassCorrected({ reading: 0.8, tempC: 30, madeForC: 20 })).toBeCloseTo(0.7998, 10);
  });
  it('changes nothing at the temperature of the glass, and adds below it', () => {
    expect(glassCorrected({ reading: 0.8, tempC: 20, madeForC: 20 })).toBe(0.8);
    expect(glassCorrected({ reading: 0.8, tempC: 15, madeForC: 20 })).toBeGreaterThan(0.8);
  });
});
