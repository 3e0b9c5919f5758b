import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brixFromIndex, indexFromBrix } from '../../src/substance/brix.ts';

/** Sucrose solutions in the CRC Handbook of Chemistry and Physics, four decimals (read in a transcription, CRCSUCROSE). */
const CRC = [
  [0, 1.333], [1, 1.3344], [5, 1.3403], [10, 1.3478], [15, 1.3557], [20, 1.3639], [26, 1.3741], [30, 1.3812],
  [36, 1.3922], [40, 1.3999], [46, 1.4118], [50, 1.4201], [60, 1.4419], [70, 1.4654],
] as const; // biome-ignore format: pairs

describe('indexFromBrix', () => {
  it.each(CRC)('of %f °Brix is %f within 0.0001', (brix, expected) => {
    expect(Math.abs(indexFromBrix(brix) - expected)).toBeLessThan(0.0001 + 1e-9);
  });
  it('meets the ICUMSA points it was fitted to (from memory)', () => {
    for (const [brix, expected] of [
      [0, 1.33299],
      [20, 1.36384],
      [30, 1.38115],
      [40, 1.39986],
      [85, 1.50398],
    ]) {
      expect(Math.abs(indexFromBrix(brix!) - expected!)).toBeLessThan(5e-6);
    }
  });
});

describe('brixFromIndex', () => {
  it('takes back what indexFromBrix gave', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 85, noNaN: true }), (brix) => {
        return Math.abs(brixFromIndex(indexFromBrix(brix)) - brix) < 1e-8;
      }),
    );
  });
  it('of dry isopropanol, 1.3772, is 27.8 °Brix', () => {
    expect(brixFromIndex(1.3772)).toBeCloseTo(27.8, 1);
  });
  it('stays on the scale', () => {
    expect(brixFromIndex(1.2)).toBeCloseTo(0, 9);
    expect(brixFromIndex(1.6)).toBeCloseTo(85, 9);
  });
});
