/** What the options of `reading` say, as the keys of the ledger: each instrument read, held against what a bath can show. */
import type { ReadingEvent } from '../ledger/event.ts';
import { isWithin, type Range, rangeText } from '../ledger/range.ts';
import { heaviestResidue, READING_RANGES, type ReadingKey, tubRange } from '../ledger/reading-ranges.ts';
import { likelySlip, residueSlip, type Slip } from '../ledger/reading-slips.ts';
import type { SgReference } from '../substance/hydrometer.ts';
import type { Kind } from '../substance/units.ts';
import type { Options } from './definition.ts';
import { type Fault, usage } from './fault.ts';
import { numberOption } from './reading-options.ts';
import { quantity, round } from './values.ts';

/** The keys of the ledger for what one instrument read. */
type Values = Partial<Omit<ReadingEvent, 'id' | 'at' | 'what' | 'bath'>>;

export interface Instrument {
  /** Its option: `density`. */
  option: string;
  /** Its reading changes with the temperature, or stands for a volume at one, so that a temperature given is kept. */
  usesTemp: boolean;
  /** It may be of glass, made for another temperature. */
  usesGlass: boolean;
  /** The reading of the option, held against its range. */
  read(options: Options): Values;
  /** A standard deviation in the unit of the reading. */
  readSd(text: string): number;
}

/** The option of each key that one value gives. */
const OPTION_OF: Partial<Record<ReadingKey, string>> = {
  density_g_ml: 'density',
  sg: 'sg',
  brix: 'brix',
  refractive_index: 'index',
  sample_ml: 'sample',
  dry_g: 'dry',
  resin_wt_pct: 'resin',
  level_ml: 'level',
  weight_g: 'weight',
  temp_c: 'temp',
  t_ref_c: 'glass',
  sd: 'sd',
};

type NumberKey = 'density_g_ml' | 'sg' | 'brix' | 'refractive_index' | 'resin_wt_pct';

/** A scale that is read as a plain number, with an example and the units that may stand behind it. */
function scale(key: NumberKey, example: string, unit?: RegExp): Instrument {
  const option = OPTION_OF[key]!;
  const isHydrometer = key === 'density_g_ml' || key === 'sg';
  return {
    option,
    usesTemp: key !== 'resin_wt_pct',
    usesGlass: isHydrometer,
    read: (options) => {
      const text = options[option] as string;
      const value = allowed(key, numberOption(text, option, example, unit), text);
      return key === 'sg' ? { sg: value, sg_ref: referenceOf(options) } : { [key]: value };
    },
    readSd: (text) => numberOption(text, 'sd', '0.001', unit),
  };
}

function amount(key: 'level_ml' | 'weight_g', kind: Kind): Instrument {
  const option = OPTION_OF[key]!;
  return {
    option,
    usesTemp: key === 'level_ml',
    usesGlass: false,
    read: (options) => ({ [key]: amountOf(options, key, kind) }),
    readSd: (text) => round(quantity(text, kind, '--sd')),
  };
}

const PERCENT = /\s*(?:wt)?\s*%$/i;

/** Every instrument, in the order of the ledger's keys. */
export const INSTRUMENTS: readonly Instrument[] = [
  scale('density_g_ml', '0.803', /\s*g\/(?:ml|cc|cm3|cm³)$/i),
  scale('sg', '0.806'),
  scale('brix', '31.2', /\s*(?:%|°?\s*(?:bx|brix))$/i),
  scale('refractive_index', '1.3801'),
  {
    option: 'dry',
    usesTemp: true,
    usesGlass: false,
    read: (options) => ({ residue: residueOf(options) }),
    readSd: (text) => numberOption(text, 'sd', '0.2', PERCENT),
  },
  scale('resin_wt_pct', '5.2', PERCENT),
  amount('level_ml', 'volume'),
  amount('weight_g', 'mass'),
];

function referenceOf({ ref }: Options): SgReference {
  return (ref as SgReference | undefined) ?? '20/20';
}

function amountOf(
  options: Options,
  key: 'sample_ml' | 'dry_g' | 'level_ml' | 'weight_g',
  kind: Kind,
): number {
  const option = OPTION_OF[key]!;
  const text = options[option] as string;
  return allowed(key, round(quantity(text, kind, `--${option}`)), text);
}

function residueOf(options: Options): { sample_ml: number; dry_g: number } {
  const residue = {
    sample_ml: amountOf(options, 'sample_ml', 'volume'),
    dry_g: amountOf(options, 'dry_g', 'mass'),
  };
  const mostG = heaviestResidue(residue.sample_ml);
  if (residue.dry_g <= mostG) return residue;
  throw usage(
    `Cannot use --dry "${options.dry}", a sample of ${residue.sample_ml} mL leaves at most ${mostG} g even if it is neat resin`,
    inOptions(residueSlip(residue)),
  );
}

/** `--temp` or `--glass` in °C. @throws Fault, usage, outside the range, with °F or K in mind */
export function temperatureOption(options: Options, key: 'temp_c' | 't_ref_c'): number | undefined {
  const option = OPTION_OF[key]!;
  const text = options[option];
  if (typeof text !== 'string') return undefined;
  return allowed(key, round(quantity(text, 'temperature', `--${option}`)), text);
}

/** The standard deviation for one instrument. @throws Fault, usage, when it is nought */
export function sdOption(text: string, instrument: Instrument): number {
  return allowed('sd', instrument.readSd(text), text);
}

/**
 * A level or a weight that the tub can have.
 *
 * @throws Fault, usage, with the brim
 */
export function refuseBeyondBrim(values: Values, bath: string, brimMl: number): void {
  const key = values.level_ml === undefined ? 'weight_g' : 'level_ml';
  const value = values[key];
  if (value === undefined) return;
  const range = tubRange(key, brimMl);
  if (isWithin(value, range)) return;
  const slip = likelySlip(key, value, brimMl);
  throw usage(
    `Cannot use --${OPTION_OF[key]} ${value} ${range.unit}, the ${bath} bath holds ${Math.round(brimMl)} mL up to the brim, allowed is ${rangeText(range)}`,
    slip
      ? inOptions(slip)
      : 'check the value; the brim follows from "tub_ml", or "mark_ml" and "freeboard_mm", in the head of the ledger',
  );
}

function allowed(key: ReadingKey, value: number, text: string): number {
  const range: Range = READING_RANGES[key];
  if (isWithin(value, range)) return value;
  throw outside(key, text, range, likelySlip(key, value));
}

function outside(key: ReadingKey, text: string, range: Range, slip: Slip | undefined): Fault {
  const isTemperature = key === 'temp_c' || key === 't_ref_c';
  // Who wrote the unit did not mean another one.
  const meant = isTemperature && slip?.instead && /[a-z]\s*$/i.test(text) ? undefined : slip;
  return usage(
    `Cannot use --${OPTION_OF[key]} "${text}", allowed is ${rangeText(range)}`,
    meant ? inOptions(meant, text) : 'check the value and its unit',
  );
}

/** A slip as a line of help for somebody who types a command. */
function inOptions({ told, instead }: Slip, text?: string): string {
  if (!instead) return told;
  const { key, value } = instead;
  const unit = READING_RANGES[key].unit;
  const isTemperature = key === 'temp_c' || key === 't_ref_c';
  if (isTemperature)
    return `${told}: write --${OPTION_OF[key]} "${text?.trim()} ${told.includes('°F') ? 'F' : 'K'}"`;
  const isAmount = unit === 'mL' || (unit === 'g' && key !== 'density_g_ml');
  return `${told}: write --${OPTION_OF[key]} ${isAmount ? `"${value} ${unit}"` : value}`;
}
