/** What a value that no bath can read most likely is: another unit, another scale, a point in the wrong place. */
import { isWithin, type Range } from './range.ts';
import { heaviestResidue, READING_RANGES, type ReadingKey, tubRange } from './reading-ranges.ts';

export interface Slip {
  /** What the value is, in a few words that can begin a sentence. */
  told: string;
  /** What to write instead; absent when the words say all there is to do. */
  instead?: { key: ReadingKey; value: number };
}

/** A slip as a line of help for somebody who edits the file. */
export function inKeys({ told, instead }: Slip): string {
  const sentence = told.charAt(0).toUpperCase() + told.slice(1);
  return instead === undefined ? sentence : `${sentence}: write ${instead.key}: ${instead.value}`;
}

/**
 * The likeliest slip behind a value outside the range of its key.
 *
 * @param brimMl - of the bath, for a level or a weight
 * @returns undefined when the value is in its range, or nothing is likely
 */
export function likelySlip(key: ReadingKey, value: number, brimMl?: number): Slip | undefined {
  switch (key) {
    case 'density_g_ml':
    case 'sg':
      return densitySlip(key, value);
    case 'brix':
      return brixSlip(value);
    case 'refractive_index':
      return indexSlip(value);
    case 'temp_c':
    case 't_ref_c':
      return temperatureSlip(key, value);
    case 'level_ml':
    case 'weight_g':
      return tubSlip(key, value, brimMl);
    default:
      return undefined;
  }
}

function densitySlip(key: 'density_g_ml' | 'sg', value: number): Slip | undefined {
  if (fits(key, value)) return undefined;
  const other = otherScale(value, ['refractive_index', 'brix']);
  if (other) return other;
  if (value > READING_RANGES.brix.max && value <= 100) {
    return { told: 'a strength in % is of fresh solvent, look it up with: bathbook strength' };
  }
  if (fits(key, value / 1000)) {
    const told = key === 'sg' ? `${value} is an SG without its point` : `${value} is in kg/m³`;
    return { told, instead: { key, value: neat(value / 1000) } };
  }
  return (
    pointSlip(key, value, [10, 0.1, 0.01]) ?? {
      told:
        value > 1
          ? 'liquid as heavy as this is no bath, neat resin weighs about 1.1 g/mL'
          : 'nothing in a bath is as light, pure isopropanol weighs 0.77 g/mL at 40 °C',
    }
  );
}

function brixSlip(value: number): Slip | undefined {
  if (fits('brix', value)) return undefined;
  return (
    otherScale(value, ['refractive_index', 'density_g_ml']) ??
    pointSlip('brix', value, [10, 100]) ?? {
      told:
        value < READING_RANGES.brix.min
          ? 'fresh isopropanol reads about 28 °Brix; a scale for salt, or water on the prism, reads less'
          : 'a scale for honey or for strength reads more; use one for sugar of 0 to 32 or 0 to 50 °Brix',
    }
  );
}

function indexSlip(value: number): Slip | undefined {
  if (fits('refractive_index', value)) return undefined;
  const point = pointSlip('refractive_index', value, [10, 100, 1000, 10_000]);
  const other = point ?? otherScale(value, ['brix', 'density_g_ml']);
  if (other) return other;
  const near = Math.abs(value - 1.42) < 0.3;
  if (!near) return undefined;
  return {
    told:
      value < READING_RANGES.refractive_index.min
        ? 'water reads 1.333, dry the prism and read again'
        : 'neat resin reads about 1.49, wipe the prism and read again',
  };
}

/** °F or K typed where °C is wanted. */
function temperatureSlip(key: 'temp_c' | 't_ref_c', value: number): Slip | undefined {
  if (fits(key, value)) return undefined;
  const fahrenheit = ((value - 32) * 5) / 9;
  if (value >= 50 && fits(key, fahrenheit)) {
    const celsius = tenth(fahrenheit);
    return { told: `${value} °F is ${celsius} °C`, instead: { key, value: celsius } };
  }
  const kelvin = tenth(value - 273.15);
  if (fits(key, kelvin)) return { told: `${value} K is ${kelvin} °C`, instead: { key, value: kelvin } };
  return key === 'temp_c'
    ? { told: 'let the liquid come to room temperature and read again' }
    : { told: 'give the temperature printed on the glass' };
}

/** Litres typed as mL, kilograms as g, or the other way round. */
function tubSlip(key: 'level_ml' | 'weight_g', value: number, brimMl: number | undefined): Slip | undefined {
  const range = brimMl === undefined ? READING_RANGES[key] : tubRange(key, brimMl);
  if (isWithin(value, range)) return undefined;
  const [small, large] = key === 'level_ml' ? ['mL', 'L'] : ['g', 'kg'];
  if (isWithin(value * 1000, range)) {
    const told = `${value} ${large} is ${neat(value * 1000)} ${small}`;
    return { told, instead: { key, value: neat(value * 1000) } };
  }
  if (isWithin(value / 1000, range)) {
    const told = `no bath holds ${neat(value / 1000)} ${large}`;
    return { told, instead: { key, value: neat(value / 1000) } };
  }
  if (key === 'weight_g' && value > range.max) {
    return { told: 'weigh the liquid alone, take the weight of the tub off' };
  }
  return value === 0 ? { told: 'to empty a bath: bathbook drain BATH all' } : undefined;
}

/** The likeliest slip behind a residue that its sample cannot leave: milligrams typed as grams, or a sample in litres. */
export function residueSlip({
  sample_ml: sampleMl,
  dry_g: dryG,
}: {
  sample_ml: number;
  dry_g: number;
}): Slip {
  const grams = neat(dryG / 1000);
  if (sampleMl >= 1 && grams <= heaviestResidue(sampleMl)) {
    return { told: `${dryG} mg is ${grams} g`, instead: { key: 'dry_g', value: grams } };
  }
  const millilitres = neat(sampleMl * 1000);
  if (dryG <= heaviestResidue(millilitres)) {
    const told = `${sampleMl} L is ${millilitres} mL`;
    return { told, instead: { key: 'sample_ml', value: millilitres } };
  }
  return { told: 'take the weight of the dish off, and give the sample in mL' };
}

const SCALES: Partial<Record<ReadingKey, string>> = {
  density_g_ml: 'a density in g/mL',
  brix: 'in °Brix',
  refractive_index: 'a refractive index',
};

/** The value is one of another instrument. */
function otherScale(value: number, keys: readonly ReadingKey[]): Slip | undefined {
  const key = keys.find((one) => fits(one, value));
  return key && { told: `${value} looks like ${SCALES[key]}`, instead: { key, value } };
}

function pointSlip(key: ReadingKey, value: number, divisors: readonly number[]): Slip | undefined {
  const divisor = divisors.find((one) => fits(key, value / one));
  return divisor === undefined
    ? undefined
    : {
        told: `the point of ${value} is in the wrong place`,
        instead: { key, value: neat(value / divisor) },
      };
}

function fits(key: ReadingKey, value: number): boolean {
  const range: Range = READING_RANGES[key];
  return isWithin(value, range);
}

function tenth(value: number): number {
  return Number(value.toFixed(1));
}

/** Free of noise from the division. */
function neat(value: number): number {
  return Number(value.toPrecision(12));
}
