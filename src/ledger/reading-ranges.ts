/**
 * What the instruments of a reading can show of a bath; said once, for the schema of the file, its everyday check and the
 * command line.
 */
import type { Range } from './range.ts';

/**
 * By the key of the ledger. Density and SG: pure isopropanol weighs 0.77 g/mL at 40 °C, neat resin 1.05 to 1.2. Brix and
 * index: 40 wt% isopropanol at 40 °C reads 1.357 (16 °Brix), dry at 20 °C 1.3772 (28 °Brix), a bath of 20 wt% resin 1.393
 * (36 °Brix); TANAKA2001, CHU1962 and ICUMSA1974 in data/SOURCES.md, with room to spare. Temperature: where the density data hold.
 */
export const READING_RANGES = {
  density_g_ml: { unit: 'g/mL', min: 0.7, max: 1.25 },
  sg: { unit: '', min: 0.7, max: 1.25 },
  brix: { unit: '°Brix', min: 10, max: 40 },
  refractive_index: { unit: '', min: 1.34, max: 1.5 },
  sample_ml: { unit: 'mL', above: 0, max: 1000 },
  dry_g: { unit: 'g', min: 0, max: 1000 },
  resin_wt_pct: { unit: 'wt%', min: 0, max: 100 },
  level_ml: { unit: 'mL', above: 0, max: 1_000_000 },
  weight_g: { unit: 'g', above: 0, max: 1_250_000 },
  temp_c: { unit: '°C', min: 10, max: 40 },
  t_ref_c: { unit: '°C', min: 0, max: 40 },
  sd: { unit: '', above: 0, max: 1_000_000 },
} as const satisfies Record<string, Range>;

/**
 * What the temperature of the liquid changes by more than the instrument's error within a few degrees: 0.0008 g/mL and
 * 0.0004 in n_D for each (TANAKA2001, CHU1962).
 */
export const TEMPERATURE_COUNTS = ['density_g_ml', 'sg', 'brix', 'refractive_index'] as const;

export type ReadingKey = keyof typeof READING_RANGES;

/** The heaviest resin there is, with much filler, g/mL; common practice, no source. */
const HEAVIEST_RESIN = 1.6;

/** What a sample of neat resin would leave when dry, g; no sample leaves more. */
export function heaviestResidue(sampleMl: number): number {
  return Number((HEAVIEST_RESIN * sampleMl).toPrecision(6));
}

/** Nobody reads less of a bath than this share of its brim; less is a slip of the unit. */
const LEAST_SHARE = 0.01;

/**
 * What a tub can hold, as a level or as the weight of its liquid: from a hundredth of the brim to the brim; a weight at the
 * highest density of a bath.
 */
export function tubRange(key: 'level_ml' | 'weight_g', brimMl: number): Range {
  const { unit } = READING_RANGES[key];
  const most = key === 'level_ml' ? brimMl : brimMl * READING_RANGES.density_g_ml.max;
  return { unit, min: Math.floor(LEAST_SHARE * brimMl), max: Math.ceil(most) };
}
