/** Readings of fresh solvent turned into a strength, and a strength into what instruments would read. */
import {
  densityFromSg,
  glassCorrected,
  SG_REFERENCES,
  type SgReference,
  sgFromDensity,
} from './hydrometer.ts';
import { ipaDensity } from './isopropanol.ts';
import {
  fractionFromDensity,
  fractionFromVolume,
  LOWEST_VOL_PCT,
  MIXTURE_RANGE,
  mixtureDensity,
  volumeFraction,
} from './mixture.ts';
import {
  columnsAt,
  DENSITY_COLUMNS,
  type Flag,
  flagsAt,
  INDEX_COLUMNS,
  strengthsAt,
  valueAt,
} from './published.ts';
import { solventIndex } from './refraction.ts';
import { waterDensity } from './water.ts';

/** What was read, or what strength is asked about, at a temperature of the liquid. */
export interface Reading {
  kind: 'density' | 'sg' | 'index' | 'wt' | 'vol';
  value: number;
  tempC: number;
  /** The scale of a specific gravity. */
  reference?: SgReference;
  /** The worth of the last digit given, in the unit of the value: 0.001 for 0.790. Absent: given exactly. */
  lastDigit?: number;
  /** The temperature a glass hydrometer was made for; absent when the density needs no correction. */
  glassC?: number;
}

/** What one published table says. */
export interface TableAnswer {
  source: string;
  wtPct: number;
  /** g/mL, or the index for a reading of the index. */
  value: number;
  /** Table less model: wt% for a reading, the unit of `value` for a strength; null where the model does not reach. */
  difference: number | null;
  flags: readonly Flag[];
}

export interface Strength {
  /** Density at the reading's temperature in g/mL, after any correction for the glass; null when an index was read. */
  density: number | null;
  /** Best strength; null when the reading allows only a range. */
  wtPct: number | null;
  /** The strengths that the reading allows, give or take one standard deviation of instrument and model. */
  lowWtPct: number;
  highWtPct: number;
  /** `tables` below 40 wt%, where the formula ends. */
  basis: 'model' | 'tables';
  tables: readonly TableAnswer[];
}

/** A reading that no strength goes with. */
export interface Refusal {
  refused: 'temperature' | 'strength' | 'density' | 'index' | 'no-table';
  value: number;
  low: number;
  high: number;
}

/** Standard deviation of a hand hydrometer, and of the density formula, in g/mL. */
const HYDROMETER_SD = 0.001;
const DENSITY_SD = Math.hypot(HYDROMETER_SD, 0.0007);
/** Standard deviation of a hand refractometer, and of the index formula. */
const INDEX_SD = Math.hypot(0.0003, 0.0006);
/**
 * What is left open by the digits that were given, as a standard deviation [the unit of the value]: all values that round to them are
 * equally likely, and a uniform distribution has last digit / √12.
 */
function roundingSd({ lastDigit = 0 }: Reading): number {
  return lastDigit / Math.sqrt(12);
}

/** A range of strengths this wide, in wt%, is no reading of the strength any more. */
export const WIDEST_RANGE = 10;

/** What the density of 40 wt% may miss itself by, in the last bits. */
const ROUNDING = 1e-9;

const LOWEST_WT = MIXTURE_RANGE.lowestFraction * 100;

/**
 * The strength of fresh solvent from one reading, by the formula and by every published table that covers it.
 *
 * @returns the strength with its spread; or why the data cannot tell, with the range they hold for
 */
export function strengthOf(reading: Reading): Strength | Refusal {
  const { kind, tempC } = reading;
  const { lowestC, highestC } = MIXTURE_RANGE;
  if (!(tempC >= lowestC && tempC <= highestC)) {
    return { refused: 'temperature', value: tempC, low: lowestC, high: highestC };
  }
  switch (kind) {
    case 'density':
    case 'sg':
      return fromDensity(densityOf(reading), tempC, roundingSd(reading));
    case 'index':
      return fromIndex(reading.value, tempC, Math.hypot(INDEX_SD, roundingSd(reading)));
    case 'wt':
      return fromStrength(reading.value, tempC);
    case 'vol':
      return fromVolume(reading.value, tempC);
    default:
      return kind satisfies never;
  }
}

/** Density of the liquid at its temperature, in g/mL, from a density or a specific gravity. */
function densityOf({ kind, value, tempC, reference = '20/20', glassC }: Reading): number {
  const read = kind === 'sg' ? densityFromSg(value, reference) : value;
  return glassC === undefined ? read : glassCorrected({ reading: read, tempC, madeForC: glassC });
}

function fromDensity(density: number, tempC: number, roundedSd: number): Strength | Refusal {
  const sd = Math.hypot(DENSITY_SD, roundedSd);
  const dry = ipaDensity(tempC);
  const weakest = mixtureDensity(MIXTURE_RANGE.lowestFraction, tempC);
  if (!(density >= dry - 2 * sd && density <= 1)) {
    return { refused: 'density', value: density, low: dry, high: 1 };
  }
  const within = (value: number) => fractionFromDensity(Math.min(Math.max(value, dry), weakest), tempC) * 100;
  const wtPct = density > weakest + ROUNDING ? null : within(density);
  const tables = densityTables(density, tempC, wtPct);
  const heaviest = waterDensity(tempC);
  if (tables.length === 0 && density > heaviest)
    return { refused: 'density', value: density, low: dry, high: heaviest };
  if (wtPct === null) return fromTables(density, tables, TABLE_SD * Math.hypot(1, roundedSd / HYDROMETER_SD));
  const [lowWtPct, highWtPct] = [within(density + sd), within(density - sd)];
  return { density, wtPct, lowWtPct, highWtPct, basis: 'model', tables };
}

/** Below 40 wt% only the tables speak: their mean, and from the least to the greatest. */
function fromTables(
  density: number | null,
  tables: readonly TableAnswer[],
  sd = TABLE_SD,
): Strength | Refusal {
  const found = tables.map(({ wtPct }) => wtPct);
  if (found.length === 0)
    return { refused: 'no-table', value: density ?? Number.NaN, low: LOWEST_WT, high: 100 };
  const wtPct = found.reduce((sum, one) => sum + one, 0) / found.length;
  return {
    density,
    wtPct,
    lowWtPct: Math.max(0, Math.min(...found) - sd),
    highWtPct: Math.max(...found) + sd,
    basis: 'tables',
    tables,
  };
}

/** What a hand instrument adds below 40 wt%, where 0.001 g/mL is worth 0.5–1 wt%. */
const TABLE_SD = 0.7;

function densityTables(density: number, tempC: number, modelWt: number | null): TableAnswer[] {
  return columnsAt(DENSITY_COLUMNS, tempC).flatMap((column) =>
    strengthsAt(column, density).map((wtPct) => ({
      source: column.source,
      wtPct,
      value: density,
      difference: modelWt === null ? null : wtPct - modelWt,
      flags: flagsAt(column, wtPct),
    })),
  );
}

function fromIndex(index: number, tempC: number, sd: number): Strength | Refusal {
  const allowed = strengthsWithin(index, tempC, sd);
  const tables = indexTables(index, tempC);
  if (allowed === null) {
    const weakest = solventIndex(MIXTURE_RANGE.lowestFraction, tempC);
    const highest = solventIndex(1, tempC) + 2 * sd;
    return index < weakest && tables.length > 0
      ? fromTables(null, tables)
      : { refused: 'index', value: index, low: weakest, high: highest };
  }
  const [lowWtPct, highWtPct] = allowed;
  const told = highWtPct < 100 && highWtPct - lowWtPct <= WIDEST_RANGE;
  const wtPct = told ? indexStrength(index, tempC) : null;
  return { density: null, wtPct, lowWtPct, highWtPct, basis: 'model', tables: withModel(tables, wtPct) };
}

function withModel(tables: readonly TableAnswer[], wtPct: number | null): TableAnswer[] {
  return tables.map((one) => ({ ...one, difference: wtPct === null ? null : one.wtPct - wtPct }));
}

/** Every tenth of a percent from 40 to 100 wt%, as a fraction. */
const STEPS = Array.from({ length: 601 }, (_, step) => 0.4 + step / 1000);

/** The least and the greatest strength whose index lies within the deviation of the reading; null when none does. */
function strengthsWithin(index: number, tempC: number, sd: number): [low: number, high: number] | null {
  const fitting = STEPS.filter((fraction) => Math.abs(solventIndex(fraction, tempC) - index) <= sd);
  if (index < solventIndex(0.4, tempC) || fitting.length === 0) return null;
  return [fitting[0]! * 100, fitting.at(-1)! * 100];
}

/** The strength of an index where it rises with it, to a tenth of a percent. */
function indexStrength(index: number, tempC: number): number {
  const miss = (fraction: number) => Math.abs(solventIndex(fraction, tempC) - index);
  return STEPS.reduce((best, fraction) => (miss(fraction) < miss(best) ? fraction : best)) * 100;
}

function indexTables(index: number, tempC: number): TableAnswer[] {
  return columnsAt(INDEX_COLUMNS, tempC).flatMap((column) =>
    strengthsAt(column, index).map((wtPct) => ({
      source: column.source,
      wtPct,
      value: index,
      difference: null,
      flags: flagsAt(column, wtPct),
    })),
  );
}

function fromVolume(volPct: number, tempC: number): Strength | Refusal {
  if (!(volPct >= LOWEST_VOL_PCT && volPct <= 100)) {
    return { refused: 'strength', value: volPct, low: LOWEST_VOL_PCT, high: 100 };
  }
  return fromStrength(fractionFromVolume(volPct / 100, 20) * 100, tempC);
}

function fromStrength(wtPct: number, tempC: number): Strength | Refusal {
  if (!(wtPct >= 0 && wtPct <= 100)) return { refused: 'strength', value: wtPct, low: 0, high: 100 };
  const model = wtPct < LOWEST_WT ? null : mixtureDensity(wtPct / 100, tempC);
  const tables = columnsAt(DENSITY_COLUMNS, tempC).flatMap((column) => {
    const value = valueAt(column, wtPct);
    if (value === null) return [];
    const difference = model === null ? null : value - model;
    return [{ source: column.source, wtPct, value, difference, flags: flagsAt(column, wtPct) }];
  });
  const exact = { wtPct, lowWtPct: wtPct, highWtPct: wtPct, tables };
  if (model !== null) return { density: model, basis: 'model', ...exact };
  if (tables.length === 0) return { refused: 'no-table', value: wtPct, low: LOWEST_WT, high: 100 };
  const mean = tables.reduce((sum, { value }) => sum + value, 0) / tables.length;
  return { density: mean, basis: 'tables', ...exact };
}

/** What the instruments read in a liquid of this strength. */
export interface Instruments {
  volPct: number;
  density20: number;
  density: number;
  index: number;
  sg: Record<SgReference, number>;
}

/** Everything about a strength from 40 wt% up, by the formulas; null below. */
export function instrumentsAt(wtPct: number, tempC: number): Instruments | null {
  if (wtPct < LOWEST_WT) return null;
  const fraction = Math.min(1, wtPct / 100);
  const scales = Object.entries(SG_REFERENCES) as [SgReference, { liquidC: number }][];
  const sg = scales.map(([name, { liquidC }]) => [
    name,
    sgFromDensity(mixtureDensity(fraction, liquidC), name),
  ]);
  return {
    volPct: volumeFraction(fraction, 20) * 100,
    density20: mixtureDensity(fraction, 20),
    density: mixtureDensity(fraction, tempC),
    index: solventIndex(fraction, tempC),
    sg: Object.fromEntries(sg) as Record<SgReference, number>,
  };
}
