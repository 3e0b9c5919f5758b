import { describe, expect, it } from 'vitest';
import { emptyBath } from '../../src/bath/state.ts';
import { emptyTally, imbalance } from '../../src/bath/tally.ts';

/** A dry bath, and so much water told as gone to the air that nobody poured, g. */
function waterFromNowhere(grams: number): number {
  const tally = emptyTally();
  tally.air.water = grams;
  return imbalance([emptyBath()], tally);
}

describe('the balance', () => {
  it('takes what rounding leaves of nothing for nothing', () => {
    // Doubles near 300 g are 6e-14 apart: grams below that are rounding.
    expect(waterFromNowhere(3.5e-19)).toBeLessThan(1e-9);
  });

  it('still sees a gap of a microgram, and tells it relative to a microgram', () => {
    expect(waterFromNowhere(1e-6)).toBeCloseTo(1, 12);
    expect(waterFromNowhere(1)).toBeCloseTo(1, 12);
    expect(waterFromNowhere(1e-12)).toBeGreaterThan(1e-9);
  });
});
