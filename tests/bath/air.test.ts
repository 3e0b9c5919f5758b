import { describe, expect, it } from 'vitest';
import { openFlux, rimTransfer, roomAir, stand, tubAir } from '../../src/bath/air.ts';
import { openShop, type Tub } from '../../src/bath/shop.ts';
import { type Bath, copyBath, emptyBath, ipaFraction, isBeyondModel } from '../../src/bath/state.ts';
import { airEquations, type Standing } from './air-equations.ts';
import { headerOf, OPEN } from './bench.ts';
import { integrate } from './solver.ts';

interface Case {
  name: string;
  lengthMm: number;
  widthMm: number;
  freeboardMm: number;
  markMl: number;
  lidOpenH: number;
  roomC: number;
  humidityPct: number;
  evaporation: number;
  moisture: number;
  ipaG: number;
  waterG: number;
  resinG: number;
  days: number;
}

/** 3.14 kg of 99.5 wt% solvent, 4 L, in the default tub. */
const USUAL: Case = {
  name: 'the default tub for a week',
  lengthMm: 260,
  widthMm: 180,
  freeboardMm: 50,
  markMl: 4000,
  lidOpenH: 1,
  roomC: 22,
  humidityPct: 50,
  evaporation: 1,
  moisture: 1,
  ipaG: 3130,
  waterG: 16,
  resinG: 0,
  days: 7,
};

const CASES: Case[] = [
  USUAL,
  { ...USUAL, name: 'for eight weeks', days: 56 },
  { ...USUAL, name: 'loaded with resin, closed for a month', resinG: 400, lidOpenH: 0, days: 30 },
  { ...USUAL, name: 'open day and night for ten days', lidOpenH: 24, days: 10 },
  { ...USUAL, name: 'open day and night, a third gone', lidOpenH: 24, resinG: 250, days: 21 },
  { ...USUAL, name: 'damp solvent in dry air', ipaG: 2800, waterG: 280, humidityPct: 5, days: 28 },
  {
    ...USUAL,
    name: 'weak solvent in a hot humid room',
    ipaG: 2200,
    waterG: 940,
    humidityPct: 85,
    roomC: 35,
    days: 28,
  },
  { ...USUAL, name: 'a cold room', roomC: 12, lidOpenH: 8, days: 28 },
  {
    ...USUAL,
    name: 'a small jar',
    lengthMm: 90,
    widthMm: 80,
    freeboardMm: 20,
    markMl: 600,
    ipaG: 460,
    waterG: 2.3,
    days: 21,
  },
  { ...USUAL, name: 'above the mark', ipaG: 3500, waterG: 18, freeboardMm: 15, lidOpenH: 4, days: 14 },
  { ...USUAL, name: 'factors far from one', evaporation: 3.5, moisture: 0.3, lidOpenH: 8, days: 14 },
  { ...USUAL, name: 'moisture off', moisture: 0, days: 28 },
  { ...USUAL, name: 'evaporation off', evaporation: 0, lidOpenH: 8, days: 28 },
];

function set(given: Case) {
  const header = headerOf(
    {
      dirty: {
        ...OPEN,
        mark_ml: given.markMl,
        length_mm: given.lengthMm,
        width_mm: given.widthMm,
        freeboard_mm: given.freeboardMm,
        lid_open_h: given.lidOpenH,
      },
    },
    { shop: { room_c: given.roomC, humidity_pct: given.humidityPct } },
  );
  const shop = openShop(header);
  const standing: Standing = {
    roomC: given.roomC,
    humidity: given.humidityPct / 100,
    surfaceM2: (given.lengthMm * given.widthMm) / 1e6,
    markMl: given.markMl,
    freeboardM: given.freeboardMm / 1000,
    lidOpenH: given.lidOpenH,
    evaporation: given.evaporation,
    moisture: given.moisture,
    resinG: given.resinG,
    resinDensity: shop.resins[0]!.density,
  };
  const bath: Bath = { ...emptyBath(), ipaG: given.ipaG, waterG: given.waterG };
  bath.resin[0] = given.resinG;
  const factors = { evaporation: given.evaporation, moisture: given.moisture };
  const tub = shop.tubs[0]!;
  const standAs = (on: Bath, as: Tub, hours: number) => stand(on, as, shop.resins, hours, factors);
  const wait = (on: Bath, hours: number) => standAs(on, tub, hours);
  return { bath, wait, standing, tub, standAs };
}

/** The water at which the equations, written a second time, let nothing pass to or from the air: by halving from 1 ng to 100 g. */
function balancedWaterG(standing: Standing, ipaG: number): number {
  let [low, high] = [1e-9, 100];
  for (let halving = 0; halving < 100; halving += 1) {
    const middle = (low + high) / 2;
    if (airEquations(standing)(0, [ipaG, middle])[1]! > 0) low = middle;
    else high = middle;
  }
  return high;
}

const relative = (actual: number, wanted: number) => Math.abs(actual / wanted - 1);

describe('standing against an ODE solver', () => {
  // The equations alone: hourly pieces leave 7e-6 of a step's error at worst.
  it.each(CASES)('$name, hour by hour', (given) => {
    const { bath, wait, standing } = set(given);
    for (let hour = 0; hour < 24 * given.days; hour += 1) wait(bath, 1);
    const [ipaG, waterG] = integrate(airEquations(standing), [given.ipaG, given.waterG], 24 * given.days);
    expect(relative(bath.ipaG, ipaG!)).toBeLessThan(1e-5);
    expect(relative(bath.waterG, waterG!)).toBeLessThan(1e-5);
  });

  // The model's own steps of up to a day. A usual lid stays within 1e-4; a tub that stands open day and night loses up to
  // 5 % a step, which costs up to 6e-4 of the IPA and 2e-3 of the little water in it.
  it.each(CASES)('$name, in the steps of the model', (given) => {
    const { bath, wait, standing } = set(given);
    wait(bath, 24 * given.days);
    const [ipaG, waterG] = integrate(airEquations(standing), [given.ipaG, given.waterG], 24 * given.days);
    const share = (grams: number, wanted: number) => Math.abs(grams - wanted) / (ipaG! + waterG!);
    expect(relative(bath.ipaG, ipaG!)).toBeLessThan(given.lidOpenH > 1 ? 6e-4 : 1e-4);
    expect(relative(bath.waterG, waterG!)).toBeLessThan(given.lidOpenH > 1 ? 2e-3 : 1e-4);
    expect(share(bath.waterG, waterG!)).toBeLessThan(given.lidOpenH > 1 ? 1.5e-4 : 1e-5);
  });

  it.each(CASES)('$name, in pieces', (given) => {
    const { bath, wait } = set(given);
    const pieces = copyBath(bath);
    wait(bath, 24 * given.days);
    for (const share of [0.02, 0.4, 0.13, 0.05, 0.4]) wait(pieces, 24 * given.days * share);
    expect(relative(pieces.ipaG, bath.ipaG)).toBeLessThan(given.lidOpenH > 1 ? 6e-4 : 1e-4);
    expect(relative(pieces.waterG, bath.waterG)).toBeLessThan(given.lidOpenH > 1 ? 2e-3 : 1e-4);
  });

  it('loses less than a gram in a thousand by the length of its steps, whatever the lid', () => {
    for (const lidOpenH of [0, 1, 4, 8, 16, 24]) {
      const given = { ...USUAL, lidOpenH, days: 5 };
      const { bath, wait, standing } = set(given);
      wait(bath, 120);
      const [ipaG] = integrate(airEquations(standing), [given.ipaG, given.waterG], 120);
      expect(relative(bath.ipaG, ipaG!)).toBeLessThan(1e-3);
    }
  });
});

describe('what a standing bath keeps', () => {
  const factorsOff = { evaporation: 0, moisture: 0 };

  it('stays as it is, bit for bit, with both factors off, after no time, and when empty', () => {
    const off = set({ ...USUAL, ...factorsOff, resinG: 123.4 });
    const before = copyBath(off.bath);
    expect(off.wait(off.bath, 1000)).toEqual({ ipaG: 0, waterG: 0 });
    expect(off.bath).toEqual(before);
    const still = set(USUAL);
    const full = copyBath(still.bath);
    still.wait(still.bath, 0);
    expect(still.bath).toEqual(full);
    const empty = set({ ...USUAL, ipaG: 0, waterG: 0 });
    empty.wait(empty.bath, 1000);
    expect([empty.bath.ipaG, empty.bath.waterG]).toEqual([0, 0]);
  });

  it('water stays to the bit with moisture off, IPA with evaporation off', () => {
    const noMoisture = set({ ...USUAL, moisture: 0 });
    noMoisture.wait(noMoisture.bath, 700);
    expect(noMoisture.bath.waterG).toBe(USUAL.waterG);
    expect(noMoisture.bath.ipaG).toBeLessThan(USUAL.ipaG);
    const noLoss = set({ ...USUAL, evaporation: 0 });
    noLoss.wait(noLoss.bath, 700);
    expect(noLoss.bath.ipaG).toBe(USUAL.ipaG);
    expect(noLoss.bath.waterG).toBeGreaterThan(USUAL.waterG);
  });

  it('tells exactly what the air took', () => {
    const { bath, wait } = set({ ...USUAL, resinG: 200 });
    const lost = wait(bath, 500);
    expect(lost).toEqual({ ipaG: USUAL.ipaG - bath.ipaG, waterG: USUAL.waterG - bath.waterG });
    expect(lost.ipaG).toBeGreaterThan(0);
    expect(lost.waterG).toBeLessThan(0);
  });

  it('takes in more water in moister air, and loses some to dry air', () => {
    const gained = (humidityPct: number) => {
      const { bath, wait } = set({ ...USUAL, waterG: 60, humidityPct });
      wait(bath, 500);
      return bath.waterG - 60;
    };
    expect(gained(80)).toBeGreaterThan(gained(40));
    expect(gained(0)).toBeLessThan(0);
  });

  it('dries out, keeps its resin and says so', () => {
    const given = { ...USUAL, ipaG: 200, waterG: 2, resinG: 37.5, lidOpenH: 24, humidityPct: 0 };
    const { bath, wait } = set(given);
    const lost = wait(bath, 24 * 60);
    expect(bath.dry).toBe(true);
    expect([bath.ipaG, bath.waterG, bath.resin[0]]).toEqual([0, 0, 37.5]);
    expect(lost).toEqual({ ipaG: 200, waterG: 2 });
    expect(wait(bath, 1000)).toEqual({ ipaG: 0, waterG: 0 });
  });

  it('comes to rest in damp air: resin and the water that balances the room, however long it is left', () => {
    const given = {
      ...USUAL,
      ipaG: 20,
      waterG: 3,
      resinG: 1,
      evaporation: 4,
      moisture: 2,
      lidOpenH: 24,
      roomC: 40,
    };
    const { bath, wait } = set(given);
    wait(bath, 24 * 365);
    // Water alone has an activity coefficient of 1: half of all molecules at 50 % humidity.
    const balanceG = (18.015 * 1) / 300;
    expect(bath.ipaG).toBe(0);
    expect(relative(bath.waterG, balanceG)).toBeLessThan(1e-9);
    // Half a century by steps that follow so thin a layer would outlast the test.
    const restedG = bath.waterG;
    wait(bath, 24 * 365 * 50);
    expect(relative(bath.waterG, restedG)).toBeLessThan(1e-9);
    expect(isBeyondModel(bath)).toBe(true);
  });

  it.each([
    ['with resin in damp air', { resinG: 25 }],
    ['without resin', {}],
    ['in the dampest air, where resin takes up water without end', { resinG: 400, humidityPct: 100 }],
    ['with the lid off in a hot room', { resinG: 1, lidOpenH: 24, roomC: 40, evaporation: 4, moisture: 2 }],
    ['with evaporation as good as off', { resinG: 100, evaporation: 0.001 }],
    ['with evaporation off', { resinG: 100, evaporation: 0 }],
  ])('is the same after eight thousand years as after forty, and soon told: %s', (_, more) => {
    const given = { ...USUAL, ...more };
    const stoodFor = (years: number) => {
      const { bath, tub, standAs } = set(given);
      let looks = 0;
      const watched = new Proxy(tub, {
        get: (of, name) => {
          if (name === 'air') looks += 1;
          return Reflect.get(of, name);
        },
      });
      standAs(bath, watched, years * 365.25 * 24);
      return { bath, looks };
    };
    const [forty, long] = [stoodFor(40), stoodFor(8000)];
    expect(long.bath).toEqual(forty.bath);
    // Two looks at the air a step, and a few more where a step is shortened: thirty years of days.
    expect(long.looks).toBeLessThan(40_000);
    expect(long.looks).toBeGreaterThan(100);
  });

  it('at rest exchanges nothing: a thin film holds the water at which the air gives as much as it takes', () => {
    for (const [resinG, humidityPct] of [
      [1, 50],
      [3, 20],
      [0.2, 70],
    ] as const) {
      const given = {
        ...USUAL,
        ipaG: 10,
        waterG: 1,
        resinG,
        humidityPct,
        evaporation: 4,
        moisture: 2,
        lidOpenH: 24,
      };
      const { bath, wait, standing } = set(given);
      wait(bath, 24 * 365);
      // By hand: activity 1 of the water times its share of all molecules is the humidity.
      const waterMol = ((humidityPct / 100) * (resinG / 300)) / (1 - humidityPct / 100);
      expect(bath.ipaG).toBe(0);
      expect(relative(bath.waterG, 18.015 * waterMol), `${resinG} g at ${humidityPct} %`).toBeLessThan(1e-9);
      const [, water] = airEquations(standing)(0, [0, bath.waterG]);
      const full = Math.abs(airEquations(standing)(0, [0, 2 * bath.waterG])[1]!);
      expect(Math.abs(water!) / full).toBeLessThan(1e-9);
    }
  });

  it('keeps a film that takes up water falling through no floor: with evaporation off its IPA stays to the bit', () => {
    const { bath, wait, standing } = set({
      ...USUAL,
      ipaG: 0.4,
      waterG: 0.02,
      resinG: 0.5,
      evaporation: 0,
      lidOpenH: 24,
    });
    wait(bath, 24 * 200);
    expect(bath.ipaG).toBe(0.4);
    expect(relative(bath.waterG, balancedWaterG(standing, 0.4))).toBeLessThan(1e-9);
    const again = bath.waterG;
    wait(bath, 24 * 200);
    expect(relative(bath.waterG, again)).toBeLessThan(0.01);
  });

  it('a film that loses its IPA over years keeps the water that balances what IPA is left', () => {
    const given = { ...USUAL, ipaG: 0.4, waterG: 0.02, resinG: 0.5, lidOpenH: 24 };
    const { bath, wait, standing } = set({ ...given, evaporation: 1e-6, moisture: 2 });
    for (const days of [1000, 1000]) {
      const before = { ...bath };
      wait(bath, 24 * days);
      expect(bath.ipaG).toBeLessThan(before.ipaG);
      expect(bath.ipaG).toBeGreaterThan(0.1);
      expect(relative(bath.waterG, balancedWaterG(standing, bath.ipaG))).toBeLessThan(1e-3);
    }
  });

  it('a trace that rises is no trace that falls: a drop of resin takes up water from nothing', () => {
    const { bath, wait } = set({
      ...USUAL,
      ipaG: 5e-3,
      waterG: 0,
      resinG: 0.5,
      evaporation: 0,
      lidOpenH: 24,
    });
    wait(bath, 1e-6);
    expect(bath.waterG).toBeGreaterThan(0);
    expect(bath.waterG).toBeLessThan(1e-6);
  });

  it('grows weak where the IPA leaves and water comes, and is flagged below 40 wt%', () => {
    const given = { ...USUAL, ipaG: 1400, waterG: 1400, humidityPct: 95, roomC: 30, lidOpenH: 24 };
    const { bath, wait } = set(given);
    expect(isBeyondModel(bath)).toBe(false);
    wait(bath, 24 * 7);
    expect(ipaFraction(bath)).toBeLessThan(0.4);
    expect(isBeyondModel(bath)).toBe(true);
  });

  it('never goes below nothing, even where a thin layer meets its balance with the air within one step', () => {
    for (const humidityPct of [10, 50, 90, 100]) {
      for (const ipaG of [0.5, 5, 15, 80, 400]) {
        for (const evaporation of [0, 0.01, 0.3, 1]) {
          const given = { ...USUAL, ipaG, waterG: 0.001 * ipaG, humidityPct, evaporation, lidOpenH: 24 };
          const { bath, wait } = set(given);
          for (let day = 0; day < 20; day += 1) {
            wait(bath, 24);
            expect(bath.ipaG).toBeGreaterThanOrEqual(0);
            expect(bath.waterG, JSON.stringify(given)).toBeGreaterThanOrEqual(0);
          }
        }
      }
    }
  });
});

describe('pieces of the air model', () => {
  it('rim transfer, worked example: IPA, 22 °C, 0.0252 m² → 1.02e-3 m/s', () => {
    expect(rimTransfer(1.01e-5, 60.095, 0.0252)).toBeCloseTo(1.02e-3, 5);
  });

  // A disc in still air loses 4 D R times the difference in concentration (Crank, The Mathematics of Diffusion; from memory):
  // over its surface π R² that is the floor, which a pinhole of any vapour reaches.
  it.each([
    [1.01e-5, 60.095, 1e-4],
    [2.5e-5, 18.015, 3e-4],
  ])(
    'rim transfer of a pinhole is that of a disc in still air: D %f, M %f, R %f m',
    (diffusivity, molar, radius) => {
      const surface = Math.PI * radius ** 2;
      expect(rimTransfer(diffusivity, molar, surface) * surface).toBeCloseTo(4 * diffusivity * radius, 15);
      const half = rimTransfer(diffusivity, molar, Math.PI * (radius / 2) ** 2);
      expect(half / rimTransfer(diffusivity, molar, surface)).toBeCloseTo(2, 9);
    },
  );

  it('open flux, worked example: pure IPA, 22 °C, 0.0252 m², 0.05 m → 4.5 g/h', () => {
    const { ipa } = roomAir(22, 0.5);
    const rim = rimTransfer(ipa.diffusivity, 60.095, 0.0252);
    const flux = openFlux({ vapour: ipa, rim, surfaceM2: 0.0252, freeboardM: 0.05, activity: 1 });
    expect(flux).toBeCloseTo(4.5, 1);
  });

  it('a closed lid leaks a twentieth; an hour open a day adds 19/20 of an hour', () => {
    const air = roomAir(22, 0.5);
    expect(tubAir(air, 0.04, 0).duty).toBeCloseTo(0.05, 12);
    expect(tubAir(air, 0.04, 24).duty).toBe(1);
    expect(tubAir(air, 0.04, 1).duty).toBeCloseTo((1 + 23 * 0.05) / 24, 12);
  });

  it('pure IPA takes in water from moist air as a negative flux', () => {
    const { water } = roomAir(22, 0.5);
    const taken = openFlux({ vapour: water, rim: 1e-3, surfaceM2: 0.04, freeboardM: 0.05, activity: 0 });
    expect(taken).toBeLessThan(0);
  });
});
