/** Rows of evaporation.csv that the room `vapour` computes, by number. Sources are ids of data/SOURCES.md. */
import { expect } from 'vitest';
import { surfaceOf } from '../../src/vapour/emission.ts';
import { CAUTION_PPM, EXPOSURE_LIMITS, FLAMMABLE } from '../../src/vapour/exposure-limits.ts';
import { coldCleaner } from '../../src/vapour/flat-rates.ts';
import { headspaceOf, headspacePercent } from '../../src/vapour/headspace.ts';
import { kawamuraPool, mackayPool } from '../../src/vapour/mackay.ts';
import { penetration } from '../../src/vapour/penetration.ts';
import { laminarPlate, plateSherwood } from '../../src/vapour/plate.ts';
import { reachOf } from '../../src/vapour/reach.ts';
import { rmpPool } from '../../src/vapour/rmp.ts';
import { afterMgPerM3, ppmOf, steadyMgPerM3 } from '../../src/vapour/room.ts';
import { referenceCoefficient, screeningCeiling } from '../../src/vapour/screening.ts';
import { stefanFlux, stillDisc, stillFreeboard } from '../../src/vapour/still.ts';
import type { OpenSurface } from '../../src/vapour/surface.ts';
import type { Row } from './table.ts';

export type Within = (row: Row, actual: number, looser?: number) => void;

/** The table's own tub: 18 x 14 cm, 5 cm of freeboard, pure IPA at 22 °C. */
export const STANDARD: OpenSurface = surfaceOf(
  {
    name: 'tub',
    surfaceM2: 0.0252,
    lengthM: 0.18,
    freeboardM: 0.05,
    activity: 1,
    factor: { p05: 1, p50: 1, p95: 1 },
  },
  22,
);

const IPA = 60.095;
const MMHG = 133.322368;
/** The table's room, and its two tubs at best estimate. */
const room = { volumeM3: 30, airM3PerH: 60 };
const BOTH_G_PER_H = 9.0234;
const opened = (gPerH: number) => afterMgPerM3({ gPerH, room, mixing: 1, minutes: 10 });

/** Toluene, 0.1 g/min into 100 ft³/min at 80 °F: molar volume R T/P with R 0.7302 ft³ atm/(lb-mol °R). */
const toluenePpm = (mixing: number) =>
  ppmOf(
    steadyMgPerM3({ gPerH: 6, airM3PerH: 6000 * 0.028316846592, mixing }),
    92,
    (0.7302 * (80 + 459.67) * 28.316846592) / 453.59237,
  );

export function vapourRows(within: Within): Record<number, (row: Row) => void> {
  const at = (speedMPerS: number, of: (surface: OpenSurface, speed: number) => number) => (row: Row) =>
    within(row, of(STANDARD, speedMPerS));
  return {
    1: (row) =>
      within(
        row,
        stefanFlux({
          diffusivity: 0.25e-4,
          layerM: 0.1524,
          tempC: 293 - 273.15,
          atLiquidPa: 17.54 * MMHG,
        }) / 1000,
      ),
    2: (row) => {
      const given = { diffusivity: 0.02 / 3600, layerM: 0.01, tempC: 298 - 273.15, atLiquidPa: 0.2e5 };
      // The page has π 3.14 and R 8314; with the whole π and R its own note gives 3.9238e-4.
      const flux = stefanFlux({ ...given, totalPa: 1.013e5 }) * 25 * 3.14;
      within(row, flux / 1000);
    },
    4: (row) => {
      const given = { diffusivity: 2.36e-5, layerM: 0.001, tempC: 295 - 273.15 };
      within(row, stefanFlux({ ...given, atLiquidPa: 7000, totalPa: 101_300 }) / 1000);
    },
    6: (row) => within(row, plateSherwood(65_837, 0.6025)),
    12: (row) => within(row, referenceCoefficient(94)),
    13: (row) => within(row, toluenePpm(1)),
    14: (row) => within(row, toluenePpm(0.1)),
    18: (row) => within(row, 100 / ppmOf(1, 17.03)),
    19: (row) => within(row, 1 / ppmOf(1, 60.1)),
    27: (row) => {
      const areaM2 = 0.09290304;
      const given = { areaM2, molarMass: 60.1, pressurePa: 33 * MMHG, tempC: 20 };
      within(row, rmpPool(given, 1.5) / 453.59237 / 60);
    },
    30: (row) => {
      const given = { areaM2: 0.1, lengthM: 0.3, molarMass: 100, pressurePa: 0.5 * 10 * MMHG };
      within(row, penetration({ ...given, tempC: 298 - 273.15 }, (30 * 0.3048) / 60) / 3600);
    },
    31: (row) => within(row, stillFreeboard(STANDARD)!),
    32: (row) => within(row, stillDisc(STANDARD)),
    40: (row) => within(row, ppmOf(steadyMgPerM3({ gPerH: BOTH_G_PER_H, airM3PerH: 60, mixing: 1 }), IPA)),
    41: (row) => within(row, ppmOf(opened(BOTH_G_PER_H), IPA)),
    46: (row) => within(row, stillFreeboard(STANDARD)!),
    47: at(0.1, rmpPool),
    48: at(0.2, rmpPool),
    49: at(0.25, rmpPool),
    50: at(0.2, mackayPool),
    51: at(0.2, kawamuraPool),
    52: at(0.2, laminarPlate),
    53: at(0.1, penetration),
    54: at(0.2, penetration),
    55: at(0.25, penetration),
    56: (row) => within(row, screeningCeiling(STANDARD)),
    57: (row) => within(row, coldCleaner(STANDARD)),
    63: (row) => within(row, opened(BOTH_G_PER_H)),
    64: (row) => within(row, opened(BOTH_G_PER_H / 2)),
    75: () => {
      expect(headspacePercent(1, 22).toFixed(1)).toBe('4.9');
      expect([FLAMMABLE.lower, FLAMMABLE.upper]).toEqual([2, 12.7]);
      expect(headspaceOf(1, 22, FLAMMABLE).place).toBe('inside');
    },
    76: () => {
      expect(CAUTION_PPM).toBe(200);
      const all = { low: 210, high: 210, cautionLow: 210, cautionHigh: 210 };
      expect(reachOf(CAUTION_PPM, all)).toBe('low-end');
    },
    77: (row) => {
      expect(0.1 * FLAMMABLE.lower * 1e4).toBe(Number(row.expected));
      expect(EXPOSURE_LIMITS.find(({ kind }) => kind === 'danger')!.ppm).toBe(Number(row.expected));
    },
  };
}
