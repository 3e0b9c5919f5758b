import { describe, expect, it } from 'vitest';
import {
  CAUTION_PPM,
  EXPOSURE_LIMITS,
  FLASH_POINT_C,
  JURISDICTIONS,
} from '../../src/vapour/exposure-limits.ts';
import { dataRows } from '../published/data-rows.ts';

const rows = dataRows('limits.csv');

/** Concentrations in the table that are no limit in force, and why. */
const NOT_IN_FORCE: Record<string, string> = {
  'STEL 15 min of the 1989 rule (remanded; not in force federally)': 'remanded',
  'former TLV TWA (1990s)': 'former',
  'former TLV STEL (1990s)': 'former',
  'emergency guidance level 1 h': 'for emergencies',
  'emergency guidance level 24 h': 'for emergencies',
  'irritation reported (eyes nose throat)': 'an observation',
  'irritation more intense': 'an observation',
  '1 ppm at 25 C 1 atm': 'a conversion',
};

describe('exposure limits', () => {
  it('are all those of data/limits.csv that are in force, each once', () => {
    const airborne = rows.filter(({ unit }) => ['ppm', 'mg/m3', 'factor'].includes(unit!));
    const ours = (row: Record<string, string>) =>
      EXPOSURE_LIMITS.filter(
        ({ jurisdiction, item }) => jurisdiction === row.jurisdiction && item === row.item,
      );
    for (const row of airborne) {
      const isLimit = !(row.item! in NOT_IN_FORCE);
      expect(ours(row).length, `${row.jurisdiction} ${row.item}`).toBe(isLimit ? 1 : 0);
    }
    expect(EXPOSURE_LIMITS).toHaveLength(15);
  });

  it('agree with the mg/m³ that the same limit is printed in, at 2.46 mg/m³ a ppm', () => {
    const printed = rows.filter(({ unit, item }) => unit === 'mg/m3' && item !== '1 ppm at 25 C 1 atm');
    expect(printed.length).toBeGreaterThan(5);
    for (const row of printed) {
      const limit = EXPOSURE_LIMITS.find(
        ({ jurisdiction, item }) => jurisdiction === row.jurisdiction && item === row.item,
      );
      expect(Math.abs((limit!.ppm * 2.46) / Number(row.value) - 1), row.item).toBeLessThan(0.02);
    }
  });

  // ACGIH, ONTARIO, TRGS900, 29CFR1910.1000, NIOSH0359, EH40.
  it.each([
    ['us-osha', [400], []],
    ['us-niosh', [400], [500]],
    ['us-acgih', [200], [400]],
    ['canada-ontario', [200], [400]],
    ['uk', [400], [500]],
    ['germany', [200], [400]],
    ['us-washington', [400], [500]],
  ])('of %s are %j over a shift and %j for a short time', (key, shift, short) => {
    const of = (kind: string) =>
      EXPOSURE_LIMITS.filter((limit) => limit.key === key && limit.kind === kind).map(({ ppm }) => ppm);
    expect([of('shift'), of('short')]).toEqual([shift, short]);
  });

  it('trigger a caution at the lowest of them, 200 ppm, where none is chosen', () => {
    expect(CAUTION_PPM).toBe(200);
    for (const { ppm } of EXPOSURE_LIMITS) expect(Math.round(ppm)).toBeGreaterThanOrEqual(CAUTION_PPM);
  });

  it('name each jurisdiction once, and the flash point beside them', () => {
    expect(new Set(JURISDICTIONS).size).toBe(JURISDICTIONS.length);
    expect(JURISDICTIONS).toHaveLength(8);
    expect(FLASH_POINT_C).toBe(12);
  });
});
