/**
 * A shop under one habit as flat numbers, for the inner loop of a comparison: README.md 1. Plain data, so that it can be handed
 * to a worker.
 */
import { loadOf } from '../bath/load.ts';
import { brimOf, type Shop, type Solvent } from '../bath/shop.ts';
import type { WashEvent } from '../ledger/event.ts';
import { ipaDensity } from '../substance/isopropanol.ts';
import { mixtureDensity } from '../substance/mixture.ts';
import { resinDensity } from '../substance/resin.ts';
import { solventViscosity } from '../substance/viscosity.ts';
import { waterDensity } from '../substance/water.ts';

/** What is done when a bath has come to its limit. */
export type Rule = 'rotate' | 'refill';

/** The baths of the route in their order; each array has a number for each. */
interface PlantBaths {
  markMl: Float64Array;
  brimMl: Float64Array;
  surfaceM2: Float64Array;
  freeboardM: Float64Array;
  /** Time-average of the opening, and of each vapour what `bath/air.ts` calls its path. */
  duty: Float64Array;
  ipaDrive: Float64Array;
  ipaRim: Float64Array;
  ipaLayer: Float64Array;
  waterDrive: Float64Array;
  waterRim: Float64Array;
  waterLayer: Float64Array;
  /** Change limits as fractions: of resin in everything, of water in the solvent; Infinity where fresh solvent is past it. */
  resinLimit: Float64Array;
  waterLimit: Float64Array;
}

/** The loads that come; in `soak` and `givenDragMl` one number for each bath of each load. NaN where nothing was given. */
interface PlantLoads {
  parts: Float64Array;
  areaCm2: Float64Array;
  filmG: Float64Array;
  prerinseShare: Float64Array;
  trappedG: Float64Array;
  givenCarryG: Float64Array;
  midrinseShare: Float64Array;
  dragMl: Float64Array;
  soak: Float64Array;
  givenDragMl: Float64Array;
}

/** Constants of the liquids in this room; specific volumes in mL/g. */
interface PlantLiquids {
  /** Of IPA and water at 20 °C and at the room's temperature, and the constant of the excess polynomial there. */
  ipa20: number;
  water20: number;
  excess20: number;
  ipaRoom: number;
  waterRoom: number;
  excessRoom: number;
  /** Saturation of the room's air with water, 0–1. */
  humidity: number;
  /** Viscosity of dry IPA in the room, mPa·s. */
  dryViscosity: number;
  resin20: number;
  /** g/mL in the room. */
  resinDensityRoom: number;
  /** ln of mPa·s in the room. */
  logResinViscosity: number;
}

export interface Plant {
  count: number;
  baths: PlantBaths;
  loads: PlantLoads;
  liquids: PlantLiquids;
  /** What is poured: mass fraction of IPA, and g/mL at 20 °C. */
  solvent: { ipaFraction: number; density: number };
  /** Tubs of the ledger whose air each bath has. */
  places: number[];
  rule: Rule;
  /** Changed when the ledger's estimate has come to this share of a change limit; 1 at the limit. */
  changeAt: number;
  /** Changed after so many washes, whatever the estimate; Infinity for never. */
  everyWashes: number;
  /** Topped up to the mark with fresh solvent in the morning once below this share of it; 0 for never. */
  topUpBelow: number;
}

/**
 * Lays out a shop. Several resins count as one of their mean density and viscosity, by the film each brings.
 *
 * @param shop - opened from the header as the habit would have it
 * @param on.route - names of its baths in order
 * @param on.washes - the loads, in the way the habit would wash them; every one goes through the route
 * @param on.places - for each bath of the route, the tub of the ledger whose air factors it has
 */
export function plantOf(
  shop: Shop,
  on: { route: readonly string[]; washes: readonly WashEvent[]; places: readonly number[]; solvent: Solvent },
): Omit<Plant, 'rule' | 'changeAt' | 'everyWashes' | 'topUpBelow'> {
  const tubs = on.route.map((name) => shop.tubs[shop.tubPlace.get(name)!]!);
  const list = (of: (tub: (typeof tubs)[number]) => number) => Float64Array.from(tubs, of);
  const baths: PlantBaths = {
    markMl: list(({ markMl }) => markMl),
    brimMl: list(brimOf),
    surfaceM2: list(({ surfaceM2 }) => surfaceM2),
    freeboardM: list(({ freeboardM }) => freeboardM),
    duty: list(({ air }) => air.duty),
    ipaDrive: list(({ air }) => air.ipa.drive),
    ipaRim: list(({ air }) => air.ipa.rimResistance),
    ipaLayer: list(({ air }) => air.ipa.layerResistance),
    waterDrive: list(({ air }) => air.water.drive),
    waterRim: list(({ air }) => air.water.rimResistance),
    waterLayer: list(({ air }) => air.water.layerResistance),
    resinLimit: list(({ limits }) => limits.resin[1] / 100),
    waterLimit: list(({ limits }) => curable(limits.water[1] / 100, 1 - on.solvent.ipaFraction)),
  };
  const { ipaFraction, density } = on.solvent;
  return {
    count: tubs.length,
    baths,
    ...loadsAndLiquids(shop, on.washes, tubs.length),
    solvent: { ipaFraction, density },
    places: [...on.places],
  };
}

/** A limit that fresh solvent has come to already is left out: no change would cure it. */
function curable(limit: number, freshWater: number): number {
  return freshWater < limit ? limit : Number.POSITIVE_INFINITY;
}

function loadsAndLiquids(
  shop: Shop,
  washes: readonly WashEvent[],
  count: number,
): { loads: PlantLoads; liquids: PlantLiquids } {
  const all = washes.map((wash) => loadOf(wash, shop));
  const list = (of: (load: (typeof all)[number]) => number) => Float64Array.from(all, of);
  const grid = (of: (load: (typeof all)[number], step: number) => number) =>
    Float64Array.from({ length: all.length * count }, (_, at) =>
      of(all[Math.floor(at / count)]!, at % count),
    );
  const loads: PlantLoads = {
    parts: list(({ parts }) => parts),
    areaCm2: list(({ areaCm2 }) => areaCm2),
    filmG: list(({ filmG }) => filmG),
    prerinseShare: list(({ prerinseShare }) => prerinseShare),
    trappedG: list(({ trappedG }) => trappedG),
    givenCarryG: list(({ givenCarryG }) => givenCarryG ?? Number.NaN),
    midrinseShare: list(({ midrinseShare }) => midrinseShare),
    dragMl: list(({ dragMl }) => dragMl),
    soak: grid(({ soaks }, step) => soaks[step]!),
    givenDragMl: grid(({ givenDragMl }, step) => givenDragMl?.[step] ?? Number.NaN),
  };
  const brought = all.map(
    (load) => load.givenCarryG ?? load.filmG * (1 - load.prerinseShare) + load.trappedG,
  );
  const sum = brought.reduce((total, one) => total + one, 0);
  const mean = (property: 'density' | 'viscosityRoom') =>
    sum > 0
      ? all.reduce((total, { resin }, at) => total + brought[at]! * shop.resins[resin]![property], 0) / sum
      : shop.resins[0]![property];
  return { loads, liquids: liquidsOf(shop, mean('density'), mean('viscosityRoom')) };
}

function liquidsOf({ roomC, air }: Shop, resinGPerMl: number, resinViscosity: number): PlantLiquids {
  return {
    ipa20: 1 / ipaDensity(20),
    water20: 1 / waterDensity(20),
    excess20: excessAt(20),
    ipaRoom: 1 / ipaDensity(roomC),
    waterRoom: 1 / waterDensity(roomC),
    excessRoom: excessAt(roomC),
    humidity: air.water.inRoom,
    dryViscosity: solventViscosity(1, roomC),
    resin20: 1 / resinGPerMl,
    resinDensityRoom: resinDensity(resinGPerMl, roomC),
    logResinViscosity: Math.log(resinViscosity),
  };
}

/** Excess volume of the half-and-half mixture over w (1 − w), mL/g: the constant of the mixture formula's polynomial at a temperature. */
function excessAt(tempC: number): number {
  const half = 0.5 / ipaDensity(tempC) + 0.5 / waterDensity(tempC);
  return 4 * (1 / mixtureDensity(0.5, tempC) - half);
}
