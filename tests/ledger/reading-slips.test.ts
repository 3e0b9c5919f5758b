/** What was probably meant by a value that no bath can read. Conversions of units are exact or by NIST SP 811, B.8. */
import { describe, expect, it } from 'vitest';
import { READING_RANGES, type ReadingKey } from '../../src/ledger/reading-ranges.ts';
import { inKeys, likelySlip, residueSlip } from '../../src/ledger/reading-slips.ts';

const keys = Object.keys(READING_RANGES) as ReadingKey[];

describe('a likely slip', () => {
  it.each<[ReadingKey, number, ReadingKey, number]>([
    ['density_g_ml', 803, 'density_g_ml', 0.803],
    ['density_g_ml', 8.03, 'density_g_ml', 0.803],
    ['density_g_ml', 0.0803, 'density_g_ml', 0.803],
    ['density_g_ml', 1.3801, 'refractive_index', 1.3801],
    ['density_g_ml', 31.2, 'brix', 31.2],
    ['sg', 806, 'sg', 0.806],
    ['brix', 1.3801, 'refractive_index', 1.3801],
    ['brix', 0.803, 'density_g_ml', 0.803],
    ['brix', 312, 'brix', 31.2],
    ['refractive_index', 31.2, 'brix', 31.2],
    ['refractive_index', 13801, 'refractive_index', 1.3801],
    ['refractive_index', 0.803, 'density_g_ml', 0.803],
    ['temp_c', 72, 'temp_c', 22.2],
    ['temp_c', 50, 'temp_c', 10],
    ['temp_c', 104, 'temp_c', 40],
    ['temp_c', 294.15, 'temp_c', 21],
    ['t_ref_c', 60, 't_ref_c', 15.6],
  ])('of %s %d is %s %d', (key, value, meant, instead) => {
    expect(likelySlip(key, value)?.instead).toEqual({ key: meant, value: instead });
  });

  it.each<[ReadingKey, number, number]>([
    ['level_ml', 3.9, 3900],
    ['weight_g', 3.1, 3100],
    ['level_ml', 3_900_000, 3900],
  ])('of %s %d in a tub of 6340 mL is %d', (key, value, instead) => {
    expect(likelySlip(key, value, 6340)?.instead).toEqual({ key, value: instead });
  });

  it.each<[ReadingKey, number, RegExp]>([
    ['density_g_ml', 1.3, /no bath/],
    ['density_g_ml', 0.6, /pure isopropanol/],
    ['density_g_ml', 91, /bathbook strength/],
    ['brix', 58, /honey/],
    ['brix', 3, /salt/],
    ['refractive_index', 1.333, /dry the prism/],
    ['refractive_index', 1.52, /wipe the prism/],
    ['temp_c', 45, /room temperature/],
    ['weight_g', 9000, /tub off/],
    ['level_ml', 0, /drain/],
  ])('of %s %d is told without a value to write', (key, value, told) => {
    const slip = likelySlip(key, value, 6340)!;
    expect(slip.told).toMatch(told);
    expect(slip.instead).toBeUndefined();
  });

  it.each<[number, number, string]>([
    [10, 81, 'dry_g: 0.081'],
    [0.01, 0.081, 'sample_ml: 10'],
    [0.01, 900, 'dish'],
  ])('of %d mL with a residue of %d g is %s', (sample_ml, dry_g, help) => {
    expect(inKeys(residueSlip({ sample_ml, dry_g }))).toContain(help);
  });

  it('is none for what is in its range, at both ends', () => {
    for (const key of keys) {
      const range: { min?: number; above?: number; max: number } = READING_RANGES[key];
      for (const end of [range.min ?? range.above! + 0.001, range.max]) {
        expect(likelySlip(key, end), `${key} ${end}`).toBeUndefined();
      }
    }
  });

  it('is itself in range, whatever was typed', () => {
    let proposed = 0;
    for (const key of keys) {
      for (let power = -4; power <= 7; power += 0.01) {
        const meant = likelySlip(key, 10 ** power, 6340)?.instead;
        if (!meant) continue;
        expect(likelySlip(meant.key, meant.value, 6340), `${key} ${10 ** power}`).toBeUndefined();
        proposed += 1;
      }
    }
    expect(proposed).toBeGreaterThan(100);
  });
});
