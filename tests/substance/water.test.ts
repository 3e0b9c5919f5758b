import { describe, expect, it } from 'vitest';
import { waterDensity, waterDiffusivityInAir, waterVapourPressurePa } from '../../src/substance/water.ts';

describe('waterDensity', () => {
  it.each([
    [20, 0.998207], // TANAKA2001
    [25, 0.997047], // TANAKA2001
    [(60 - 32) / 1.8, 0.999017], // TANAKA2001, 60 °F
  ])('at %f °C is %f g/mL', (tempC, expected) => {
    expect(Math.abs(waterDensity(tempC) - expected)).toBeLessThan(1e-6);
  });

  it('is densest close to 4 °C', () => {
    expect(waterDensity(4)).toBeGreaterThan(waterDensity(3));
    expect(waterDensity(4)).toBeGreaterThan(waterDensity(5));
  });
});

describe('waterVapourPressurePa', () => {
  // Saturation pressures of the steam tables, from memory.
  it.each([
    [10, 1228],
    [20, 2339],
    [30, 4247],
    [40, 7385],
  ])('at %f °C is %f Pa within 0.6 %%, by the steam tables', (tempC, expected) => {
    expect(Math.abs(waterVapourPressurePa(tempC) / expected - 1)).toBeLessThan(0.006);
  });
});

describe('waterDiffusivityInAir', () => {
  it('is within 5 % of 0.26 cm²/s at 25 °C (from memory)', () => {
    expect(Math.abs(waterDiffusivityInAir(25) / 0.26e-4 - 1)).toBeLessThan(0.05);
  });
  it('grows with the temperature to the power 1.75 (FULLER)', () => {
    const slope = Math.log(waterDiffusivityInAir(40) / waterDiffusivityInAir(10)) / Math.log(313.15 / 283.15);
    expect(slope).toBeCloseTo(1.75, 10);
  });
});
