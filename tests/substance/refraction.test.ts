import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mixedIndex, resinIndex, solventIndex } from '../../src/substance/refraction.ts';

describe('solventIndex', () => {
  it.each([
    [1, 20, 1.3772], // CHU1962
    [1, 25, 1.3749], // CHU1962
    [0.6052, 20, 1.3718], // CHU1962
    [0.6052, 25, 1.37], // CHU1962
    [0.3999, 20, 1.3638], // CHU1962
    [1, 30, 1.3724], // ILOUKHANI2009
  ])('of w %f at %f °C is %f within 0.0006', (w, tempC, expected) => {
    expect(Math.abs(solventIndex(w, tempC) - expected)).toBeLessThan(0.0006);
  });

  it('at 80 wt% does not follow the misprint of CRC102, 1.3742', () => {
    expect(solventIndex(0.8, 20) - 1.3742).toBeGreaterThan(0.0008);
  });

  it('falls with the temperature as ILOUKHANI2009 measured, 0.00042 a degree', () => {
    expect(solventIndex(1, 21) - solventIndex(1, 20)).toBeCloseTo(-0.00044, 5);
    expect(Math.abs(solventIndex(1, 21) - solventIndex(1, 20) + 0.00042)).toBeLessThan(0.00005);
  });
});

describe('resinIndex', () => {
  it('of 1.490 at 20 °C is 1.488 at 25 °C', () => {
    expect(resinIndex(1.49, 25)).toBeCloseTo(1.488, 10);
  });
});

describe('mixedIndex', () => {
  const index = fc.double({ min: 1.33, max: 1.55, noNaN: true });
  const share = fc.double({ min: 0, max: 1, noNaN: true });

  it('of a liquid with itself is its own', () => {
    fc.assert(
      fc.property(index, share, (n, volumeShare) => {
        const mixed = mixedIndex([
          { volumeShare, index: n },
          { volumeShare: 1 - volumeShare, index: n },
        ]);
        return Math.abs(mixed - n) < 1e-12;
      }),
    );
  });

  it('lies between its parts', () => {
    fc.assert(
      fc.property(index, index, share, (a, b, volumeShare) => {
        const mixed = mixedIndex([
          { volumeShare, index: a },
          { volumeShare: 1 - volumeShare, index: b },
        ]);
        return mixed >= Math.min(a, b) - 1e-12 && mixed <= Math.max(a, b) + 1e-12;
      }),
    );
  });

  it('of one tenth of 1.490 and nine tenths of 1.3772 is 1.3881', () => {
    const mixed = mixedIndex([
      { volumeShare: 0.1, index: 1.49 },
      { volumeShare: 0.9, index: 1.3772 },
    ]);
    // By hand: 0.1 × 0.289116 + 0.9 × 0.230114 = 0.236014; n² = 1.472028/0.763986.
    expect(mixed).toBeCloseTo(1.3881, 4);
  });
});
