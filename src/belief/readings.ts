/**
 * What a reading compares, and how far it can be trusted, README.md 4.
 */
import {
  type Liquid,
  liquidDensity,
  liquidIndex,
  liquidMass,
  liquidResinFraction,
  liquidVolume,
} from '../bath/liquid.ts';
import type { ReadingEvent } from '../ledger/event.ts';
import { brixFromIndex, indexFromBrix } from '../substance/brix.ts';
import { densityFromSg, glassCorrected, sgFromDensity } from '../substance/hydrometer.ts';

/** What kind of thing an instrument sees. */
export type Sees = 'density' | 'index' | 'resin' | 'volume' | 'mass';

/** A reading made ready to be compared with the model. */
export interface Look {
  sees: Sees;
  /** As compared: g/mL, n_D, wt%, mL or g. */
  value: number;
  /** Of the instrument and of the model, in the same unit. */
  instrumentSd: number;
  modelSd: number;
  /** What the model would have read. */
  see(liquid: Liquid): number;
  /** From the unit compared to that of the reading. */
  shown(compared: number): number;
}

/**
 * Standard deviations of the instruments, MODEL; each can be overridden by the `sd` of a reading.
 * Density 0.001 g/mL (one mark of a hydrometer), refractive index 0.0003, resin 0.2 wt% (10 mL on a balance of 0.01 g), level 3 %
 * of itself, weight 5 g, weighed load 5 % of the difference. Common practice and derived, data/SOURCES.md, DEFAULTS.
 */
const INSTRUMENT_SD = {
  density: 0.001,
  index: 0.0003,
  resinWtPct: 0.2,
  levelShare: 0.03,
  weightG: 5,
} as const;
export const WEIGHED_SHARE = 0.05;

/** Standard deviations of the formulas for density [g/mL] and refractive index, MODEL. */
const MODEL_SD = { density: 0.0007, index: 0.0006 } as const;

const asIs = (compared: number): number => compared;

/**
 * Makes a reading ready.
 *
 * @param roomC - the temperature of a reading that gives none
 * @param expected - the liquid as it is expected to be: the density of a dried sample is taken from it
 */
export function lookOf(event: ReadingEvent, roomC: number, expected: Liquid): Look {
  const tempC = event.temp_c ?? roomC;
  if (event.density_g_ml !== undefined || event.sg !== undefined) return densityLook(event, tempC);
  if (event.brix !== undefined || event.refractive_index !== undefined) return indexLook(event, tempC);
  if (event.level_ml !== undefined) return levelLook(event, event.level_ml, expected);
  if (event.weight_g !== undefined) {
    const sd = event.sd ?? INSTRUMENT_SD.weightG;
    return {
      sees: 'mass',
      value: event.weight_g,
      instrumentSd: sd,
      modelSd: 0,
      see: liquidMass,
      shown: asIs,
    };
  }
  return resinLook(event, tempC, expected);
}

/** A hydrometer: the density of the liquid at its temperature, the glass corrected. */
function densityLook(event: ReadingEvent, tempC: number): Look {
  const { sg_ref: reference = '20/20' } = event;
  const scale = event.sg === undefined ? 1 : densityFromSg(1, reference);
  const glass =
    event.t_ref_c === undefined ? 1 : glassCorrected({ reading: 1, tempC, madeForC: event.t_ref_c });
  const reading = event.density_g_ml ?? densityFromSg(event.sg!, reference);
  return {
    sees: 'density',
    value: reading * glass,
    instrumentSd: (event.sd === undefined ? INSTRUMENT_SD.density : event.sd * scale) * glass,
    modelSd: MODEL_SD.density,
    see: (liquid) => liquidDensity(liquid, tempC),
    shown: (density) =>
      event.sg === undefined ? density / glass : sgFromDensity(density / glass, reference),
  };
}

/** A refractometer, marked in n_D or in °Brix. */
function indexLook(event: ReadingEvent, tempC: number): Look {
  const { brix } = event;
  const perBrix = brix === undefined ? 1 : indexFromBrix(brix + 0.5) - indexFromBrix(brix - 0.5);
  return {
    sees: 'index',
    value: brix === undefined ? event.refractive_index! : indexFromBrix(brix),
    instrumentSd: event.sd === undefined ? INSTRUMENT_SD.index : event.sd * perBrix,
    modelSd: MODEL_SD.index,
    see: (liquid) => liquidIndex(liquid, tempC),
    shown: brix === undefined ? asIs : brixFromIndex,
  };
}

/** A volume at the temperature of the liquid where that is given, else at 20 °C. */
function levelLook(event: ReadingEvent, levelMl: number, expected: Liquid): Look {
  const shrinks =
    event.temp_c === undefined ? 1 : liquidDensity(expected, event.temp_c) / liquidDensity(expected, 20);
  const value = levelMl * shrinks;
  return {
    sees: 'volume',
    value,
    instrumentSd: event.sd === undefined ? INSTRUMENT_SD.levelShare * value : event.sd * shrinks,
    modelSd: 0,
    see: liquidVolume,
    shown: (volumeMl) => volumeMl / shrinks,
  };
}

/**
 * Resin in wt%: known from elsewhere, or dried from a sample whose mass is its volume times the density expected of it. What is
 * seen of another liquid is then w_r ρ over that density, since the dish holds grams of a volume.
 */
function resinLook(event: ReadingEvent, tempC: number, expected: Liquid): Look {
  const { residue } = event;
  const density = liquidDensity(expected, tempC);
  return {
    sees: 'resin',
    value: residue ? (100 * residue.dry_g) / (residue.sample_ml * density) : event.resin_wt_pct!,
    instrumentSd: event.sd ?? INSTRUMENT_SD.resinWtPct,
    modelSd: 0,
    see: residue
      ? (liquid) => (100 * liquidResinFraction(liquid) * liquidDensity(liquid, tempC)) / density
      : (liquid) => 100 * liquidResinFraction(liquid),
    shown: asIs,
  };
}
