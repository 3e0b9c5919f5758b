import { describe, expect, it } from 'vitest';
import { activityCoefficients } from '../../src/substance/activity.ts';
import { ipaVapourPressurePa } from '../../src/substance/isopropanol.ts';
import { waterVapourPressurePa } from '../../src/substance/water.ts';

describe('activityCoefficients', () => {
  it('is 1 for a liquid alone, and its constant for a trace in the other', () => {
    expect(activityCoefficients(1, 0).ipa).toBe(1);
    expect(activityCoefficients(0, 1).water).toBe(1);
    expect(activityCoefficients(1, 0).water).toBeCloseTo(10 ** 0.492, 12);
    expect(activityCoefficients(0, 1).ipa).toBeCloseTo(10 ** 1.042, 12);
  });

  it('obeys the Gibbs–Duhem relation, as any set of activities must', () => {
    for (const x of [0.2, 0.5, 0.687, 0.9]) {
      const step = 1e-5;
      const [low, high] = [x - step, x + step].map((at) => activityCoefficients(at, 1 - at));
      const slope = (name: 'ipa' | 'water') => Math.log(high![name] / low![name]) / (2 * step);
      expect(Math.abs(x * slope('ipa') + (1 - x) * slope('water'))).toBeLessThan(1e-6);
    }
  });

  it('gives an azeotrope at 80.3 °C within 0.03 of the measured 0.687 (AZEOVLE)', () => {
    const enriched = (x: number) => {
      const activity = activityCoefficients(x, 1 - x);
      const ipa = x * activity.ipa * ipaVapourPressurePa(80.3);
      const water = (1 - x) * activity.water * waterVapourPressurePa(80.3);
      return ipa / (ipa + water) - x;
    };
    expect(enriched(0.657)).toBeGreaterThan(0);
    expect(enriched(0.717)).toBeLessThan(0);
  });
});
