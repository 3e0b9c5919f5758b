/**
 * Evaporation row by row: evaporation.csv. Sources are ids of data/SOURCES.md. Each row is either computed by the program
 * and held to the table's tolerance, or listed with the reason why the program does not compute it.
 */
import { describe, expect, it } from 'vitest';
import { type Air, MOLAR_MASS, openFlux, rimTransfer, roomAir, tubAir } from '../../src/bath/air.ts';
import { activityCoefficients } from '../../src/substance/activity.ts';
import { ipaVapourPressurePa } from '../../src/substance/isopropanol.ts';
import { headerOf, OPEN, run } from '../bath/bench.ts';
import { countBy, gap, type Row, readTable } from './table.ts';
import { vapourRows } from './vapour-rows.ts';

const rows = readTable('evaporation.csv');

const LEFT_OUT: Record<string, { ids: number[]; why: string }> = {
  'other liquids and set-ups': {
    ids: [3, 5, ...span(7, 11), ...span(15, 17), 22, 23, 24, 42, ...span(78, 79)],
    why: 'worked examples that test formulas of their own, none of which the program uses',
  },
  units: { ids: span(70, 72), why: 'conversions that tests/substance/units.test.ts holds' },
  'a glass': {
    ids: [61, 62],
    why: 'one glass of unknown opening; the evaporation factor carries that doubt',
  },
  lid: { ids: [39], why: 'what one opening lets out at once is not told' },
  drying: { ids: [43], why: 'no drying of blind holes' },
  calibration: { ids: [44], why: 'factors do not learn from weighings' },
  rules: {
    ids: [...span(65, 69), 73, 74],
    why: 'categories of waste and storage; tests/records/waste-rules.test.ts holds what the program tells of them',
  },
};

function span(from: number, to: number): number[] {
  return Array.from({ length: to - from + 1 }, (_, at) => from + at);
}

const byId = new Map(rows.map((row) => [Number(row.id!.replace('evap-', '')), row]));

function within(row: Row, actual: number, looser = 0): void {
  const amount = Number(row.tolerance!.replace('rel ', ''));
  expect(row.tolerance).toBe(`rel ${row.tolerance!.split(' ')[1]}`);
  const label = `${row.id}: ${row.inputs}: ${actual} against ${row.expected}`;
  expect(gap(actual, Number(row.expected)), label).toBeLessThanOrEqual(Math.max(amount, looser));
}

/** The table's own surface and room. */
const SURFACE_M2 = 0.0252;
const MMHG = 133.322368;

/** An open tub of pure IPA; `wind` scales the 0.15 m/s of the model in the wind law, which goes with U^0.78. */
function flux(given: {
  roomC: number;
  freeboardM: number;
  surfaceM2?: number;
  rim?: number;
  activity?: number;
}): number {
  const { ipa } = roomAir(given.roomC, 0.5);
  const surfaceM2 = given.surfaceM2 ?? SURFACE_M2;
  const rim = given.rim ?? rimTransfer(ipa.diffusivity, MOLAR_MASS.ipa, surfaceM2);
  return openFlux({
    vapour: ipa,
    rim,
    surfaceM2,
    freeboardM: given.freeboardM,
    activity: given.activity ?? 1,
  });
}

/** The still-air floor of a disc: a molar mass so large that the wind law gives next to nothing. */
const stillRim = (air: Air) => rimTransfer(air.ipa.diffusivity, 1e15, SURFACE_M2);

/** Rim coefficient in a wind other than the model's 0.15 m/s, by the law's exponent. */
const rimInWind = (metresPerS: number, molarMass: number) =>
  rimTransfer(0, molarMass, SURFACE_M2) * (metresPerS / 0.15) ** 0.78;

/** 0.017565 is a rounding of 0.0175653, relative 1.7e-5. */
const ROUNDED = 2e-5;

const open22 = { roomC: 22, freeboardM: 0.05 };
const perDay = (lidOpenH: number) => 24 * tubAir(roomAir(22, 0.5), SURFACE_M2, lidOpenH).duty * flux(open22);

const COMPUTED: Record<number, (row: Row) => void> = {
  20: (row) => within(row, ipaVapourPressurePa(20) / MMHG),
  21: (row) => within(row, ipaVapourPressurePa(25) / MMHG),
  25: (row) => within(row, ipaVapourPressurePa(22)),
  26: (row) => within(row, roomAir(22, 0).ipa.saturatedGPerM3),
  27: (row) => {
    // g/m³ at 33 mmHg, then lb/min from one square foot.
    const gPerM3 = (33 * MMHG * 60.1) / (8.314462618 * 293.15);
    within(row, (rimInWind(1.5, 60.1) * gPerM3 * 0.09290304 * 60) / 453.59237, ROUNDED);
  },
  28: (row) => within(row, rimTransfer(0, 1, 1) / 0.15 ** 0.78, ROUNDED),
  29: (row) => within(row, rimTransfer(1.01e-5, 60.095, SURFACE_M2)),
  32: (row) => within(row, flux({ roomC: 22, freeboardM: 0, rim: stillRim(roomAir(22, 0)) })),
  33: (row) => within(row, flux(open22)),
  34: (row) => within(row, flux({ roomC: 22, freeboardM: 0 })),
  35: (row) => within(row, flux({ roomC: 22, freeboardM: 0, rim: stillRim(roomAir(22, 0)) })),
  36: (row) => within(row, flux({ roomC: 25, freeboardM: 0.05 })),
  37: (row) => within(row, perDay(1)),
  38: (row) => within(row, perDay(24)),
  45: (row) => within(row, flux({ roomC: 22, freeboardM: 0, rim: stillRim(roomAir(22, 0)) })),
  47: (row) => within(row, flux({ roomC: 22, freeboardM: 0, rim: rimInWind(0.1, 60.095) })),
  48: (row) => within(row, flux({ roomC: 22, freeboardM: 0, rim: rimInWind(0.2, 60.095) })),
  49: (row) => within(row, flux({ roomC: 22, freeboardM: 0, rim: rimInWind(0.25, 60.095) })),
  58: () => {
    const base = flux(open22);
    expect(flux({ ...open22, roomC: 23 })).toBeGreaterThan(base);
    expect(flux({ ...open22, surfaceM2: 2 * SURFACE_M2 })).toBeGreaterThan(base);
    expect(flux({ ...open22, freeboardM: 0.06 })).toBeLessThan(base);
    expect(flux({ ...open22, rim: rimInWind(0.2, 60.095) })).toBeGreaterThan(base);
    const days = [0, 1, 8, 24].map(perDay);
    expect(days).toEqual([...days].sort((a, b) => a - b));
    expect(new Set(days).size).toBe(4);
  },
  59: (row) => within(row, flux({ roomC: 25, freeboardM: 0.05 }) / flux(open22)),
  60: (row) => {
    // 1:1 by volume: the range of the table. 1:1 by mass lies above it; the basis of the measurement is not stated.
    const [low, high] = row.expected!.split('..').map(Number) as [number, number];
    const ipa = 0.785 / MOLAR_MASS.ipa;
    const water = 0.998 / MOLAR_MASS.water;
    const share = ipa / (ipa + water);
    const activity = share * activityCoefficients(share, 1 - share).ipa;
    const kgPerH =
      flux({ roomC: 20, freeboardM: 0, rim: rimInWind(4.5, 60.095), activity }) / SURFACE_M2 / 1000;
    expect(kgPerH).toBeGreaterThanOrEqual(low - 0.005);
    expect(kgPerH).toBeLessThanOrEqual(high + 0.005);
    // Measured: 1.5 kg/m²h. The over-prediction of about two is what the evaporation factor is for.
    expect(kgPerH / 1.5).toBeCloseTo(2.1, 1);
  },
};

/** By the bath's own model, and by the published models beside it. */
const ALL = [COMPUTED, vapourRows(within)];
const NUMBERS = [...new Set(ALL.flatMap((rowsOf) => Object.keys(rowsOf).map(Number)))];

describe('evaporation.csv', () => {
  it('is covered but for the rows left out', () => {
    const left = Object.values(LEFT_OUT).flatMap(({ ids }) => ids);
    expect(rows.length).toBe(79);
    expect([...left, ...NUMBERS].sort((a, b) => a - b)).toEqual(span(1, 79));
    expect([left.length, NUMBERS.length]).toEqual([31, 48]);
    // Every row about the default model is computed, but for none.
    const defaults = rows
      .filter((row) => row.topic === 'default-model')
      .map((row) => Number(row.id!.slice(5)));
    expect(defaults.every((id) => NUMBERS.includes(id))).toBe(true);
    expect(countBy(rows, 'topic')['default-model']).toBe(9);
  });

  it.each(NUMBERS)('evap-%i', (id) => {
    for (const rowsOf of ALL) rowsOf[id]?.(byId.get(id)!);
  });
});

describe('a day of the table, through a whole replay', () => {
  it.each([
    { row: 37, lidOpenH: 1 },
    { row: 38, lidOpenH: 24 },
  ])('evap-0$row: a tub of pure IPA, its lid open $lidOpenH h a day', ({ row, lidOpenH }) => {
    const header = headerOf(
      { dirty: { ...OPEN, mark_ml: 2000, length_mm: 180, width_mm: 140, moisture: 0, lid_open_h: lidOpenH } },
      { solvents: { dry: { ipa_wt_pct: 100 } } },
    );
    const { replayed } = run(header, [{ what: 'fill', bath: 'dirty', solvent: 'dry', ml: 2000 }], 24);
    // The level falls while it evaporates: half of 5.5 mm on 50 mm at most, so 3 % low.
    const lost = replayed.tally.air.ipa;
    const wanted = Number(byId.get(row)!.expected);
    expect(lost).toBeLessThan(wanted);
    expect(gap(lost, wanted)).toBeLessThan(lidOpenH === 1 ? 0.005 : 0.04);
  });
});
