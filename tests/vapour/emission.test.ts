import { describe, expect, it } from 'vitest';
import { emissionOf, type OpenTub } from '../../src/vapour/emission.ts';

const tub: OpenTub = {
  name: 'tub',
  surfaceM2: 0.0252,
  lengthM: 0.18,
  freeboardM: 0.05,
  activity: 1,
  factor: { p05: 0.5, p50: 1, p95: 2 },
};

describe('what one tub gives off', () => {
  it('is 4.5 g/h at best and 51 g/h for cautions, for the standard tub (evap-033, evap-055)', () => {
    const { best, caution } = emissionOf(tub, 22);
    expect(best.p50).toBeCloseTo(4.5117, 4);
    expect(Math.abs(caution / 50.8 - 1)).toBeLessThan(0.005);
  });

  it('has the band of its factor', () => {
    const { best } = emissionOf(tub, 22);
    expect([best.p05 / best.p50, best.p95 / best.p50]).toEqual([0.5, 2]);
  });

  it('lets no learned factor lower the value for cautions, and a high one raise it', () => {
    const low = emissionOf({ ...tub, factor: { p05: 0.05, p50: 0.1, p95: 0.2 } }, 22);
    const high = emissionOf({ ...tub, factor: { p05: 9, p50: 10, p95: 11 } }, 22);
    expect(low.caution).toBe(emissionOf(tub, 22).caution);
    expect(high.caution).toBeCloseTo(4 * high.best.p50, 9);
  });

  it('takes pure IPA for cautions, whatever is in the tub', () => {
    const watery = emissionOf({ ...tub, activity: 0.6 }, 22);
    expect(watery.best.p50).toBeCloseTo(0.6 * emissionOf(tub, 22).best.p50, 9);
    expect(watery.caution).toBe(emissionOf(tub, 22).caution);
  });

  // DEFAULTEVAP, by temperature at 0.15 m/s and 5 cm.
  it.each([
    [18, 3.5],
    [20, 4.0],
    [25, 5.4],
    [30, 7.3],
  ])('at %i °C is %f g/h', (tempC, wanted) => {
    expect(emissionOf(tub, tempC).best.p50.toFixed(1)).toBe(wanted.toFixed(1));
  });
});
