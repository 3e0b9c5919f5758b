import { describe, expect, it } from 'vitest';
import { ipaDensity, ipaDiffusivityInAir, ipaVapourPressurePa } from '../../src/substance/isopropanol.ts';

const PA_PER_MMHG = 133.322;

describe('ipaDensity', () => {
  it('at 25 °C is 0.780963 g/mL, 0.00002 from the measurement of DAOUDI2012', () => {
    expect(ipaDensity(25)).toBeCloseTo(0.780963, 6);
    expect(Math.abs(ipaDensity(25) - 0.780987)).toBeLessThan(0.0001);
  });
  it('at 25 °C agrees with CRCPHYS, which it was not fitted to', () => {
    expect(Math.abs(ipaDensity(25) - 0.780925)).toBeLessThan(0.0002);
  });
});

describe('ipaVapourPressurePa', () => {
  it('at 20 °C is 4413.6 Pa (POLING), 33 mmHg (NIOSH0359)', () => {
    expect(Math.abs(ipaVapourPressurePa(20) - 4413.6)).toBeLessThan(0.2);
    expect(Math.round(ipaVapourPressurePa(20) / PA_PER_MMHG)).toBe(33);
  });
  it('reaches one atmosphere at the boiling point, 82.2 °C (CRCPHYS)', () => {
    expect(Math.abs(ipaVapourPressurePa(82.21) / 101325 - 1)).toBeLessThan(0.005);
  });
});

describe('ipaDiffusivityInAir', () => {
  it('at 25 °C is within the published spread, 0.102 ± 0.004 cm²/s (EPI2015, NSRDS, FULLER)', () => {
    expect(Math.abs(ipaDiffusivityInAir(25) * 1e4 - 0.102)).toBeLessThan(0.004);
    expect(ipaDiffusivityInAir(25)).toBeCloseTo(1.028e-5, 8);
  });
});
