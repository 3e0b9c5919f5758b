/**
 * Evaporation of IPA and exchange of water with the air between events, README.md 4.
 */
import { activityCoefficients } from '../substance/activity.ts';
import { ipaDiffusivityInAir, ipaVapourPressurePa } from '../substance/isopropanol.ts';
import { waterDiffusivityInAir, waterVapourPressurePa } from '../substance/water.ts';
import type { Resin, Tub } from './shop.ts';
import { type Bath, isEmpty, resinMass, resinVolume, solventMass, solventVolume } from './state.ts';

/** Molar masses, g/mol (CRC102), and what a resin counts as: between the 200 and 400 of its monomers. */
export const MOLAR_MASS = { ipa: 60.095, water: 18.015, resin: 300 };
/** J/(mol K), exact in the SI. */
const GAS_CONSTANT = 8.314462618;
/** Air speed at the rim indoors, m/s; 0.05–0.3 (BALDWIN1998). */
const AIR_SPEED = 0.15;
/** Share of the freeboard that acts as a still layer; an engineering choice, 0.1–1 (DEFAULTEVAP). */
const STILL_SHARE = 0.3;
/** Leak of a closed lid against an open tub; 0.02–0.25, an engineering value (DEFAULTEVAP). */
const LID_LEAK = 0.05;
/** A step never takes more than this share of either solvent. */
const LARGEST_FALL = 0.05;
const LONGEST_STEP_H = 24;
/** More than this is no thin layer. */
const MOST_FILM_G = 1000;
/** Falling by 5 % a step, 4 kg are a milligram after 300 of them. */
const MOST_SHORT_STEPS = 400;
/** So many are short in none but a thin layer, however long it stands. */
const FILM_SHORT_STEPS = 1400;
/** Nothing is known of a tub that nobody has touched for so long: it is left as it is by then. */
const LONGEST_H = 30 * 365.25 * 24;
/** A step that changes no more than this share of either solvent: what is left of the time changes nothing that can be seen. */
const AT_REST = 1e-12;
/** Below this a bath has dried out, g. */
const DRY_G = 1e-3;
/** Less than this of either solvent, and falling, is gone: what is left would fall for ever by a share of itself, g. */
const TRACE_G = 1e-6;

/** One vapour over one room. */
interface Vapour {
  /** Saturated vapour, g/m³. */
  saturatedGPerM3: number;
  /** In still air, m²/s. */
  diffusivity: number;
  /** Saturation of the room's air with it, 0–1. */
  inRoom: number;
}

export interface Air {
  ipa: Vapour;
  water: Vapour;
}

/** What a tub's shape and lid make of the air above it. */
export interface TubAir {
  ipa: Path;
  water: Path;
  /** Time-average of the opening, 0–1. */
  duty: number;
}

/** The way of one vapour from the liquid into the room, with what does not change while a tub stands. */
interface Path {
  /** Flux of an activity of 1 through a resistance of 1 s/m with the lid off, g/h per m/s. */
  drive: number;
  /** From the rim into the room, s/m. */
  rimResistance: number;
  /** Of the layer in the freeboard, s/m for each metre of it. */
  layerResistance: number;
  inRoom: number;
}

/** Solvent gained (+) or lost (−) per hour, g/h. */
interface Rate {
  ipa: number;
  water: number;
}

/** @param humidity - relative humidity, 0–1 */
export function roomAir(roomC: number, humidity: number): Air {
  const saturated = (pressurePa: number, molarMass: number) =>
    (pressurePa * molarMass) / (GAS_CONSTANT * (roomC + 273.15));
  return {
    ipa: {
      saturatedGPerM3: saturated(ipaVapourPressurePa(roomC), MOLAR_MASS.ipa),
      diffusivity: ipaDiffusivityInAir(roomC),
      inRoom: 0,
    },
    water: {
      saturatedGPerM3: saturated(waterVapourPressurePa(roomC), MOLAR_MASS.water),
      diffusivity: waterDiffusivityInAir(roomC),
      inRoom: humidity,
    },
  };
}

/** @param lidOpenH - hours a day that the tub stands open */
export function tubAir(room: Air, surfaceM2: number, lidOpenH: number): TubAir {
  const path = (vapour: Vapour, molarMass: number) =>
    pathOf(vapour, rimTransfer(vapour.diffusivity, molarMass, surfaceM2), surfaceM2);
  return {
    ipa: path(room.ipa, MOLAR_MASS.ipa),
    water: path(room.water, MOLAR_MASS.water),
    duty: (lidOpenH + (24 - lidOpenH) * LID_LEAK) / 24,
  };
}

function pathOf(vapour: Vapour, rim: number, surfaceM2: number): Path {
  return {
    drive: 3600 * surfaceM2 * vapour.saturatedGPerM3,
    rimResistance: 1 / rim,
    layerResistance: STILL_SHARE / vapour.diffusivity,
    inRoom: vapour.inRoom,
  };
}

/**
 * Mass-transfer coefficient from the rim into room air [m/s].
 *
 *     k_air = max( 0.017565 U^0.78 M^(−1/3),  4 D/(π R) ),   R = sqrt(A/π)
 *
 * U: air speed, 0.15 m/s; M: molar mass, g/mol; D: diffusivity, m²/s; A: open surface, m².
 * The first is for outdoor pools and extrapolated to indoor air; the second is the floor of a disc in still air. Published
 * models for one surface differ by a factor of 40: the bath's evaporation factor carries that doubt. [1, 2]
 *
 * Example: IPA, 22 °C, 0.0252 m² → 1.02e-3 m/s.
 *
 * 1. EPARMP eq. D-1.  2. HULARSON. Both data/SOURCES.md.
 */
export function rimTransfer(diffusivity: number, molarMass: number, surfaceM2: number): number {
  const wind = 0.017565 * AIR_SPEED ** 0.78 * molarMass ** (-1 / 3);
  return Math.max(wind, (4 * diffusivity) / (Math.PI * Math.sqrt(surfaceM2 / Math.PI)));
}

/**
 * Flux of one vapour out of an open tub [g/h]; negative is uptake.
 *
 *     flux = 3600 A k c_s (a − s),   1/k = 1/k_air + 0.3 h/D
 *
 * A: surface, m²; c_s: saturated vapour, g/m³; a: activity in the bath; s: saturation of the room; h: freeboard, m.
 * Example: pure IPA, 22 °C, 0.0252 m², h 0.05 m → 4.5 g/h. Spread of published models 1.6–62 g/h. [DEFAULTEVAP]
 */
export function openFlux(given: {
  vapour: Vapour;
  rim: number;
  surfaceM2: number;
  freeboardM: number;
  activity: number;
}): number {
  return fluxAlong(pathOf(given.vapour, given.rim, given.surfaceM2), given.freeboardM, given.activity);
}

function fluxAlong(path: Path, freeboardM: number, activity: number): number {
  return (path.drive * (activity - path.inRoom)) / (path.rimResistance + path.layerResistance * freeboardM);
}

/** The factors of one tub's place: κ_ipa and κ_water. */
export interface AirFactors {
  evaporation: number;
  moisture: number;
}

/** A bath that stands: what does not change while it does. */
interface Standing {
  tub: Tub;
  factors: AirFactors;
  /** The resin, which stays. */
  resinMl: number;
  resinMol: number;
}

/** Rates for a bath that now holds `ipaG` and `waterG`. */
function ratesOf({ tub, factors, resinMl, resinMol }: Standing, ipaG: number, waterG: number): Rate {
  const ipaMol = ipaG / MOLAR_MASS.ipa;
  const waterMol = waterG / MOLAR_MASS.water;
  const solventMol = ipaMol + waterMol;
  const allMol = solventMol + resinMol;
  const gamma = activityCoefficients(ipaMol / solventMol, waterMol / solventMol);
  const volumeMl = resinMl + solventVolume(ipaG, waterG);
  const freeboardM = Math.max(0, tub.freeboardM + (tub.markMl - volumeMl) / 1e6 / tub.surfaceM2);
  const { ipa, water, duty } = tub.air;
  return {
    ipa: -factors.evaporation * duty * fluxAlong(ipa, freeboardM, (gamma.ipa * ipaMol) / allMol),
    water: -factors.moisture * duty * fluxAlong(water, freeboardM, (gamma.water * waterMol) / allMol),
  };
}

/** What the air took, g; negative is uptake. */
export interface Lost {
  ipaG: number;
  waterG: number;
}

/**
 * Lets a bath stand for `hours`, and tells what the air took.
 *
 * Explicit midpoint steps of at most 24 h; a step in which IPA or water would fall by more than 5 % of itself is
 * shortened. A bath that dries out keeps its resin and is marked dry. One that has come to rest, or has stood for thirty
 * years, is stepped no further.
 */
export function stand(bath: Bath, tub: Tub, resins: Resin[], hours: number, factors: AirFactors): Lost {
  const before = { ipaG: bath.ipaG, waterG: bath.waterG };
  if (hours <= 0 || isEmpty(bath) || (factors.evaporation === 0 && factors.moisture === 0)) {
    return { ipaG: 0, waterG: 0 };
  }
  const standing: Standing = {
    tub,
    factors,
    resinMl: resinVolume(bath, resins),
    resinMol: resinMass(bath) / MOLAR_MASS.resin,
  };
  standFor(Math.min(hours, LONGEST_H), bath, standing);
  return { ipaG: before.ipaG - bath.ipaG, waterG: before.waterG - bath.waterG };
}

function standFor(hours: number, bath: Bath, standing: Standing): void {
  const equalSteps = Math.ceil(hours / LONGEST_STEP_H);
  const longest = hours / equalSteps;
  let left = hours;
  let stepsLeft = equalSteps + MOST_SHORT_STEPS;
  let shortLeft = FILM_SHORT_STEPS;
  while (left > 1e-9 * hours && !bath.dry) {
    if (stepsLeft <= 0 || shortLeft <= 0) {
      balanceWater(bath, standing);
      if (bath.ipaG === 0) break;
    }
    const { ipaG, waterG } = bath;
    const step = oneStep(bath, Math.min(longest, left), standing);
    left -= step;
    stepsLeft -= 1;
    if (step < longest) shortLeft -= 1;
    else if (isAtRest(ipaG, bath.ipaG) && isAtRest(waterG, bath.waterG)) break;
  }
}

function isAtRest(before: number, after: number): boolean {
  return Math.abs(after - before) <= AT_REST * before;
}

/**
 * A layer so thin that its water follows the air within minutes would take more steps than anyone waits for. Its water is
 * put where nothing passes to or from the air; with no IPA left either, nothing changes any more. A layer that takes up
 * water without end is left to the steps, which a rise does not shorten.
 */
function balanceWater(bath: Bath, standing: Standing): void {
  let low = 0;
  let high = bath.waterG + TRACE_G;
  while (ratesOf(standing, bath.ipaG, high).water > 0) {
    low = high;
    high *= 2;
    if (high > MOST_FILM_G) return;
  }
  for (let halving = 0; halving < 60; halving += 1) {
    const middle = (low + high) / 2;
    if (ratesOf(standing, bath.ipaG, middle).water > 0) low = middle;
    else high = middle;
  }
  bath.waterG = high;
  if (bath.ipaG < TRACE_G) bath.ipaG = 0;
}

/** One midpoint step of at most `hours`; returns the hours it covered. */
function oneStep(bath: Bath, hours: number, standing: Standing): number {
  const start = ratesOf(standing, bath.ipaG, bath.waterG);
  let step = Math.min(hours, hoursToFall(bath.ipaG, start.ipa), hoursToFall(bath.waterG, start.water));
  let middle = midway(bath, start, step, standing);
  while (fallsTooFar(bath.ipaG, middle.ipa * step) || fallsTooFar(bath.waterG, middle.water * step)) {
    step /= 2;
    middle = midway(bath, start, step, standing);
  }
  bath.ipaG = rest(bath.ipaG, middle.ipa * step);
  bath.waterG = rest(bath.waterG, middle.water * step);
  if (solventMass(bath) < DRY_G) {
    bath.ipaG = 0;
    bath.waterG = 0;
    bath.dry = true;
  }
  return step;
}

function midway(bath: Bath, start: Rate, step: number, standing: Standing): Rate {
  return ratesOf(standing, bath.ipaG + (start.ipa * step) / 2, bath.waterG + (start.water * step) / 2);
}

/**
 * True when the middle of a step takes twice what its start foresaw, or takes where the start gave: a thin layer that
 * passes its balance with the air within the step, and would end with less than nothing.
 */
function fallsTooFar(grams: number, change: number): boolean {
  return -change > 2 * LARGEST_FALL * grams;
}

function rest(grams: number, change: number): number {
  const left = grams + change;
  return change < 0 && left < TRACE_G ? 0 : left;
}

/** Hours until a solvent has fallen by the largest share a step may take; no limit while it rises. */
function hoursToFall(grams: number, rate: number): number {
  return rate < 0 && grams > 0 ? (LARGEST_FALL * grams) / -rate : Number.POSITIVE_INFINITY;
}
