/**
 * The baths of a plant under one set of factors, as flat numbers: the equations of `src/bath`, held to it by
 * tests/compare/world.test.ts. Three masses a bath lie side by side in one array, since this is the inner loop.
 */
import type { Plant } from './plant.ts';

/** Factors of one way things may be; `evaporation` and `moisture` for each bath of the plant. */
export interface WorldFactors {
  carry: number;
  drag: number;
  dissolution: number;
  evaporation: Float64Array;
  moisture: Float64Array;
}

const IPA_MOLAR_MASS = 60.095;
const WATER_MOLAR_MASS = 18.015;
const RESIN_MOLAR_MASS = 300;
/** The mixture's density is known down to here. */
const LEAST_IPA = 0.4;
/** A step never takes more than this share of either solvent. */
const LARGEST_FALL = 0.05;
/** A bath that loses a tenth of itself in an hour is no bath; the steps of its last drops are not followed. */
const MOST_STEPS = 500;
const VAN_LAAR_IPA = 1.042;
const VAN_LAAR_WATER = 0.492;

/** Places in {@link sideBySide}: specific volumes at 20 °C and in the room, then ln of viscosities and the density of the resin. */
const [IPA_20, WATER_20, EXCESS_20, RESIN_20] = [0, 1, 2, 3] as const;
const [IPA_ROOM, WATER_ROOM, EXCESS_ROOM] = [4, 5, 6] as const;
const [LOG_DRY, LOG_RESIN, RESIN_DENSITY] = [7, 8, 9] as const;

function sideBySide(liquids: Plant['liquids']): Float64Array {
  const all = new Float64Array(10);
  all[IPA_20] = liquids.ipa20;
  all[WATER_20] = liquids.water20;
  all[EXCESS_20] = liquids.excess20;
  all[RESIN_20] = liquids.resin20;
  all[IPA_ROOM] = liquids.ipaRoom;
  all[WATER_ROOM] = liquids.waterRoom;
  all[EXCESS_ROOM] = liquids.excessRoom;
  all[LOG_DRY] = Math.log(liquids.dryViscosity);
  all[LOG_RESIN] = liquids.logResinViscosity;
  all[RESIN_DENSITY] = liquids.resinDensityRoom;
  return all;
}

export class World {
  /** Resin, IPA and water of each bath, g. */
  readonly masses: Float64Array;
  /** Of the last wash: resin on the parts once dry, and what a pre-rinse and a mid-rinse took off, g. */
  residueG = 0;
  trayG = 0;
  /** Poured so far, mL at 20 °C; to waste, mL and g. */
  pouredMl = 0;
  wasteMl = 0;
  wasteG = 0;
  private readonly plant: Plant;
  private readonly factors: WorldFactors;
  /** Share of the undissolved resin that dissolves, by load and bath. */
  private readonly dissolves: Float64Array;
  private ipaRate = 0;
  private waterRate = 0;
  private readonly carry: number;
  private readonly drag: number;
  private readonly loads: Plant['loads'];
  private readonly count: number;
  /** The constants of the plant's liquids side by side: an array of doubles is read without a detour. */
  private readonly liquids: Float64Array;

  constructor(plant: Plant, factors: WorldFactors) {
    this.plant = plant;
    this.factors = factors;
    this.carry = factors.carry;
    this.drag = factors.drag;
    this.loads = plant.loads;
    this.count = plant.count;
    this.liquids = sideBySide(plant.liquids);
    this.masses = new Float64Array(3 * plant.count);
    this.dissolves = plant.loads.soak.map((soak) => -Math.expm1(-soak / factors.dissolution));
  }

  /** Resin in everything, by mass [–]; NaN when there is nothing at all. */
  resinFraction(bath: number): number {
    const { masses } = this;
    const resin = masses[3 * bath]!;
    return resin / (resin + masses[3 * bath + 1]! + masses[3 * bath + 2]!);
  }

  /** Water in the solvent, by mass [–]. */
  waterFraction(bath: number): number {
    const water = this.masses[3 * bath + 2]!;
    return water / (this.masses[3 * bath + 1]! + water);
  }

  /** At 20 °C [mL]. */
  volumeMl(bath: number): number {
    const { masses } = this;
    return this.volumeOf(masses[3 * bath]!, masses[3 * bath + 1]!, masses[3 * bath + 2]!);
  }

  /** Takes a load through the baths; `scatter` multiplies what it brings. */
  wash(load: number, scatter: number): void {
    const { masses, dissolves, loads, count } = this;
    const given = loads.givenCarryG[load]!;
    let undissolved = given;
    let tray = 0;
    if (Number.isNaN(given)) {
      const film = this.carry * loads.filmG[load]! * scatter;
      tray = film * loads.prerinseShare[load]!;
      undissolved = film - tray + loads.trappedG[load]! * scatter;
    }
    let filmResin = 0;
    let filmIpa = 0;
    let filmWater = 0;
    for (let bath = 0; bath < count; bath += 1) {
      const at = 3 * bath;
      const dissolved = undissolved * dissolves[load * count + bath]!;
      undissolved -= dissolved;
      const resin = masses[at]! + filmResin + dissolved;
      const ipa = masses[at + 1]! + filmIpa;
      const water = masses[at + 2]! + filmWater;
      let dragMl = loads.givenDragMl[load * count + bath]!;
      if (Number.isNaN(dragMl)) dragMl = this.drag * loads.dragMl[load]! * this.cling(resin, ipa, water);
      const share = Math.min(1, dragMl / this.volumeOf(resin, ipa, water));
      filmResin = resin * share;
      filmIpa = ipa * share;
      filmWater = water * share;
      masses[at] = resin - filmResin;
      masses[at + 1] = ipa - filmIpa;
      masses[at + 2] = water - filmWater;
      if (bath < count - 1) {
        const rinsed = undissolved * loads.midrinseShare[load]!;
        undissolved -= rinsed;
        tray += rinsed;
      }
    }
    this.residueG = undissolved + filmResin;
    this.trayG = tray;
  }

  /** Lets every bath stand, at most 24 hours: explicit midpoint, a step that would take more than 5 % of a solvent shortened. */
  stand(hours: number): void {
    for (let bath = 0; bath < this.plant.count; bath += 1) {
      const { evaporation, moisture } = this.factors;
      if (evaporation[bath] === 0 && moisture[bath] === 0) continue;
      let left = hours;
      for (let step = 0; step < MOST_STEPS && left > 1e-9 * hours; step += 1) left -= this.step(bath, left);
    }
  }

  /** Fresh solvent into a bath. */
  pour(bath: number, ml: number): void {
    const { ipaFraction, density } = this.plant.solvent;
    const grams = ml * density;
    this.masses[3 * bath + 1]! += grams * ipaFraction;
    this.masses[3 * bath + 2]! += grams * (1 - ipaFraction);
    this.pouredMl += ml;
  }

  /** Fresh solvent up to the mark; nothing when at or above it. */
  topUp(bath: number): void {
    const missing = this.plant.baths.markMl[bath]! - this.volumeMl(bath);
    if (missing > 0) this.pour(bath, missing);
  }

  /** Down to the mark. */
  bail(bath: number): void {
    const holds = this.volumeMl(bath);
    this.toWaste(bath, (holds - this.plant.baths.markMl[bath]!) / holds, holds);
  }

  /** All to waste, and fresh to the mark. */
  refill(bath: number): void {
    this.toWaste(bath, 1, this.volumeMl(bath));
    this.pour(bath, this.plant.baths.markMl[bath]!);
  }

  /** The first to waste; each of the others into the one before, up to its mark; the last filled fresh. */
  rotate(): void {
    const { masses, plant } = this;
    const { count, baths } = plant;
    this.toWaste(0, 1, this.volumeMl(0));
    for (let bath = 0; bath < count - 1; bath += 1) {
      const from = 3 * (bath + 1);
      const holds = this.volumeMl(bath + 1);
      const share = holds > 0 ? Math.min(1, baths.markMl[bath]! / holds) : 0;
      for (let mass = 0; mass < 3; mass += 1) {
        const moved = masses[from + mass]! * share;
        masses[3 * bath + mass] = moved;
        masses[from + mass]! -= moved;
      }
      if (share < 1) this.toWaste(bath + 1, 1, holds * (1 - share));
      const missing = baths.markMl[bath]! - holds;
      if (missing > 0) this.pour(bath, missing);
    }
    masses.fill(0, 3 * (count - 1));
    this.pour(count - 1, baths.markMl[count - 1]!);
  }

  private toWaste(bath: number, share: number, holdsMl: number): void {
    const { masses } = this;
    this.wasteMl += share * holdsMl;
    for (let at = 3 * bath; at < 3 * bath + 3; at += 1) {
      this.wasteG += share * masses[at]!;
      masses[at]! *= 1 - share;
    }
  }

  private volumeOf(resin: number, ipa: number, water: number): number {
    const { liquids } = this;
    const solvent = ipa + water;
    const resinMl = resin * liquids[RESIN_20]!;
    if (!(solvent > 0)) return resinMl;
    const w = Math.max(LEAST_IPA, ipa / solvent);
    return resinMl + solvent * specificVolume(w, liquids[IPA_20]!, liquids[WATER_20]!, liquids[EXCESS_20]!);
  }

  /** How much more a loaded bath clings to parts than its solvent alone, 1–3. */
  private cling(resin: number, ipa: number, water: number): number {
    if (resin === 0) return 1;
    const { liquids } = this;
    const solvent = ipa + water;
    const fraction = resin / (resin + solvent);
    const w = ipa / solvent;
    const logViscosity = liquids[LOG_DRY]! + Math.log(relativeViscosity(w));
    const thicker = Math.exp(fraction * (liquids[LOG_RESIN]! - logViscosity));
    const solventMl = specificVolume(w, liquids[IPA_ROOM]!, liquids[WATER_ROOM]!, liquids[EXCESS_ROOM]!);
    const lighter = 1 + fraction * (1 / (solventMl * liquids[RESIN_DENSITY]!) - 1);
    return Math.min(3, Math.max(1, Math.sqrt(thicker * lighter)));
  }

  /** One midpoint step of at most `hours`; returns the hours it covered. */
  private step(bath: number, hours: number): number {
    const { masses } = this;
    const at = 3 * bath;
    const ipa = masses[at + 1]!;
    const water = masses[at + 2]!;
    if (!(ipa + water > 0)) return hours;
    this.rates(bath, ipa, water);
    const { ipaRate, waterRate } = this;
    let step = Math.min(hours, hoursToFall(ipa, ipaRate), hoursToFall(water, waterRate));
    this.rates(bath, ipa + (ipaRate * step) / 2, water + (waterRate * step) / 2);
    while (
      -this.ipaRate * step > 2 * LARGEST_FALL * ipa ||
      -this.waterRate * step > 2 * LARGEST_FALL * water
    ) {
      step /= 2;
      this.rates(bath, ipa + (ipaRate * step) / 2, water + (waterRate * step) / 2);
    }
    masses[at + 1] = ipa + this.ipaRate * step;
    masses[at + 2] = water + this.waterRate * step;
    return step;
  }

  /** Solvent gained or lost, g/h, into `ipaRate` and `waterRate`. */
  private rates(bath: number, ipa: number, water: number): void {
    const { baths, liquids } = this.plant;
    const resin = this.masses[3 * bath]!;
    const ipaMol = ipa / IPA_MOLAR_MASS;
    const waterMol = water / WATER_MOLAR_MASS;
    const allMol = ipaMol + waterMol + resin / RESIN_MOLAR_MASS;
    const a = VAN_LAAR_IPA * ipaMol;
    const b = VAN_LAAR_WATER * waterMol;
    const share = b / (a + b);
    const ipaActivity = (Math.exp(Math.LN10 * VAN_LAAR_IPA * share * share) * ipaMol) / allMol;
    const waterActivity =
      (Math.exp(Math.LN10 * VAN_LAAR_WATER * (1 - share) * (1 - share)) * waterMol) / allMol;
    const above = (baths.markMl[bath]! - this.volumeOf(resin, ipa, water)) / (1e6 * baths.surfaceM2[bath]!);
    const freeboard = Math.max(0, baths.freeboardM[bath]! + above);
    const duty = baths.duty[bath]!;
    this.ipaRate =
      (-this.factors.evaporation[bath]! * duty * baths.ipaDrive[bath]! * ipaActivity) /
      (baths.ipaRim[bath]! + baths.ipaLayer[bath]! * freeboard);
    this.waterRate =
      (-this.factors.moisture[bath]! * duty * baths.waterDrive[bath]! * (waterActivity - liquids.humidity)) /
      (baths.waterRim[bath]! + baths.waterLayer[bath]! * freeboard);
  }
}

/** Of the solvent [mL/g], the formula of `substance/mixture.ts`. */
function specificVolume(w: number, ipa: number, water: number, excess: number): number {
  const z = 2 * w - 1;
  const sum = excess + z * (0.0223535 + z * (-0.016736 - 0.0372521 * z));
  return w * ipa + (1 - w) * water + w * (1 - w) * sum;
}

/** The straight lines of `substance/viscosity.ts`. */
function relativeViscosity(w: number): number {
  if (w > 0.93) return 1.04 + ((1 - 1.04) * (w - 0.93)) / (1 - 0.93);
  if (w > 0.8855) return 1.0986 + ((1.04 - 1.0986) * (w - 0.8855)) / (0.93 - 0.8855);
  if (w > 0.6891) return 1.4126 + ((1.0986 - 1.4126) * (w - 0.6891)) / (0.8855 - 0.6891);
  if (w > 0.5877) return 1.491 + ((1.4126 - 1.491) * (w - 0.5877)) / (0.6891 - 0.5877);
  return 1.48 + ((1.491 - 1.48) * (w - 0.4)) / (0.5877 - 0.4);
}

function hoursToFall(grams: number, rate: number): number {
  return rate < 0 && grams > 0 ? (LARGEST_FALL * grams) / -rate : Number.POSITIVE_INFINITY;
}
