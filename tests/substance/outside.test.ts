import { describe, expect, it } from 'vitest';
import {
  fractionFromVolume,
  LOWEST_VOL_PCT,
  mixtureDensity,
  volumeFraction,
} from '../../src/substance/mixture.ts';

describe('a value outside the data', () => {
  it.each([
    [() => mixtureDensity(0.39, 20), 'IPA strength of 39 wt% is outside 40–100 wt%'],
    [() => mixtureDensity(0.9, 41), 'temperature of 41 °C is outside 10–40 °C'],
  ])('is told with its unit and the range: %s', (act, words) => {
    expect(act).toThrow(words);
  });

  it('by volume is told in vol%, with the least that is 40 wt%', () => {
    expect(() => fractionFromVolume(0.25, 20)).toThrow(
      /^IPA strength of 25 vol% is outside 47\.33\d*–100 vol%$/,
    );
  });

  it('is where 47.4 vol% and less than a tenth below it is not', () => {
    expect(volumeFraction(0.4, 20) * 100).toBeLessThanOrEqual(LOWEST_VOL_PCT);
    expect(volumeFraction(0.4, 20) * 100).toBeGreaterThan(LOWEST_VOL_PCT - 0.1);
  });
});
