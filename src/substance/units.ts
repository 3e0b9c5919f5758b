/**
 * Quantities as people type them, turned into the base unit: `4 L`, `1 gal`, `72 F`, `1.5 h`, `1h30`, `overnight`.
 */
import { typedDuration } from './typed-duration.ts';
import { typedNumber } from './typed-number.ts';

export type Kind = 'volume' | 'mass' | 'duration' | 'temperature' | 'area' | 'length';

export interface Unit {
  /** Base units in one of it. */
  factor: number;
  /** Added after the factor; for temperatures. */
  offset?: number;
}

/**
 * Base units: mL, g, min, °C, cm², mm. Exact by definition: 1 US gallon = 231 in³ = 3785.411784 mL, 1 imperial gallon = 4546.09 mL,
 * 1 lb = 453.59237 g, 1 in = 25.4 mm (NIST SP 811, appendix B). Gallons, quarts, pints and fluid ounces are US ones unless "imp" is said.
 */
export const UNITS: Record<Kind, Record<string, Unit>> = {
  volume: {
    ml: { factor: 1 },
    cl: { factor: 10 },
    dl: { factor: 100 },
    l: { factor: 1000 },
    cm3: { factor: 1 },
    gal: { factor: 3785.411784 },
    qt: { factor: 946.352946 },
    pt: { factor: 473.176473 },
    floz: { factor: 29.5735295625 },
    'imp gal': { factor: 4546.09 },
    'imp qt': { factor: 4546.09 / 4 },
    'imp pt': { factor: 4546.09 / 8 },
    'imp floz': { factor: 4546.09 / 160 },
  },
  mass: {
    g: { factor: 1 },
    mg: { factor: 0.001 },
    kg: { factor: 1000 },
    oz: { factor: 28.349523125 },
    lb: { factor: 453.59237 },
  },
  duration: {
    min: { factor: 1 },
    s: { factor: 1 / 60 },
    h: { factor: 60 },
    d: { factor: 1440 },
  },
  temperature: {
    c: { factor: 1 },
    f: { factor: 5 / 9, offset: (-32 * 5) / 9 },
    k: { factor: 1, offset: -273.15 },
  },
  area: {
    cm2: { factor: 1 },
    mm2: { factor: 0.01 },
    dm2: { factor: 100 },
    m2: { factor: 10_000 },
    in2: { factor: 6.4516 },
  },
  length: { mm: { factor: 1 }, cm: { factor: 10 }, m: { factor: 1000 }, in: { factor: 25.4 } },
};

/** Other spellings of the units, in lower case, one blank between words and no full stops. */
const ALIASES: Record<string, string> = Object.fromEntries(
  Object.entries({
    ml: 'millilitre millilitres milliliter milliliters mls',
    cl: 'centilitre centilitres centiliter centiliters',
    dl: 'decilitre decilitres deciliter deciliters',
    l: 'litre litres liter liters ltr',
    cm3: 'cc',
    gal: 'gallon gallons us_gal us_gallon us_gallons',
    qt: 'quart quarts us_qt us_quart us_quarts',
    pt: 'pint pints us_pt us_pint us_pints',
    floz: 'fl_oz fluid_ounce fluid_ounces us_floz us_fl_oz',
    'imp gal': 'uk_gal impgal imp_gallon imp_gallons imperial_gallon imperial_gallons uk_gallon uk_gallons',
    'imp qt': 'uk_qt imp_quart imp_quarts imperial_quart imperial_quarts',
    'imp pt': 'uk_pt imp_pint imp_pints imperial_pint imperial_pints',
    'imp floz': 'imp_fl_oz uk_floz uk_fl_oz imperial_fl_oz',
    g: 'gram grams gr',
    mg: 'milligram milligrams',
    kg: 'kilogram kilograms kilo kilos',
    lb: 'pound pounds lbs',
    oz: 'ounce ounces',
    min: 'minute minutes mins m',
    s: 'sec secs second seconds',
    h: 'hour hours hr hrs',
    d: 'day days',
    c: 'celsius degc deg_c degree_c degrees_c degrees_celsius',
    f: 'fahrenheit degf deg_f degree_f degrees_f degrees_fahrenheit',
    k: 'kelvin',
    cm2: 'sq_cm',
    mm2: 'sq_mm',
    in2: 'sq_in',
    in: 'inch inches',
    mm: 'millimetre millimetres millimeter millimeters',
    cm: 'centimetre centimetres centimeter centimeters',
  }).flatMap(([name, words]) => words.split(' ').map((word) => [word.replaceAll('_', ' '), name])),
);

const BASE_NAME: Record<Kind, string> = {
  volume: 'mL',
  mass: 'g',
  duration: 'minutes',
  temperature: '°C',
  area: 'cm²',
  length: 'mm',
};

/** A night, as a print hangs from evening to morning; common practice, no source. */
const OVERNIGHT_MIN = 720;

export type Parsed = { value: number } | { message: string; help: string; unknownUnit?: string };

/**
 * Reads one quantity. A bare number is in the base unit of its kind.
 *
 * @returns the value in the base unit; or what is wrong, and what would be right
 */
export function parseQuantity(text: string, kind: Kind): Parsed {
  const typed = text.trim();
  if (kind === 'duration') {
    if (/^overnight$/i.test(typed)) return { value: OVERNIGHT_MIN };
    const pieces = typedDuration(typed);
    if (typeof pieces === 'number') return { value: pieces };
    if (pieces) return inTwoWays(typed, pieces.either);
  }
  const found = /^([+-]?(?:[\d.,'’]|[ \u00a0\u2009\u202f](?=\d))+)\s*°?\s*([a-zµ²³_. ]*\d?)$/i.exec(typed);
  if (!found) return unreadable(text, kind);
  const name = found[2]!.trim();
  const unit = unitOf(name, kind);
  const number = typedNumber(found[1]!);
  if (number === undefined) return unreadable(text, kind);
  if (!unit) return unknownUnit(name, text, kind);
  if (typeof number !== 'number') {
    return inTwoWays(
      typed,
      number.either.map((one) => `${one} ${name}`.trim()),
    );
  }
  return { value: number * unit.factor + (unit.offset ?? 0) };
}

/** Both readings, each as it can be typed. */
function inTwoWays(text: string, either: readonly string[]): Parsed {
  return {
    message: `Cannot tell what "${text}" means, ${either.join(' or ')}`,
    help: `type ${either.map((one) => (one.includes(' ') ? `"${one}"` : one)).join(' or ')}`,
  };
}

function unitOf(name: string, kind: Kind): Unit | undefined {
  if (name === '') return { factor: 1 };
  const plain = name
    .toLowerCase()
    .replace('²', '2')
    .replace('³', '3')
    .replaceAll(/[_.\s]+/g, ' ')
    .trim();
  const units = UNITS[kind];
  if (Object.hasOwn(units, plain)) return units[plain];
  const alias = Object.hasOwn(ALIASES, plain) ? ALIASES[plain] : undefined;
  return alias !== undefined && Object.hasOwn(units, alias) ? units[alias] : undefined;
}

function accepted(kind: Kind): string {
  return Object.keys(UNITS[kind]).map(spelled).join(', ');
}

const SPELLED: Record<string, string> = { ml: 'mL', cl: 'cL', dl: 'dL', l: 'L', c: 'C', f: 'F', k: 'K' };

function spelled(unit: string): string {
  return SPELLED[unit] ?? unit;
}

function unreadable(text: string, kind: Kind): Parsed {
  const example = {
    volume: '4 L',
    mass: '6 g',
    duration: '1.5 h',
    temperature: '22 C',
    area: '340 cm2',
    length: '260 mm',
  };
  return {
    message: `Cannot read "${text}" as a ${kind}`,
    help: `write it like "${example[kind]}", or a bare number of ${BASE_NAME[kind]}`,
  };
}

function unknownUnit(unit: string, text: string, kind: Kind): Parsed {
  return {
    message: `Cannot read "${text}" as a ${kind}, "${unit}" is no unit of ${kind}`,
    help: `Units are ${accepted(kind)}; a bare number is ${BASE_NAME[kind]}`,
    unknownUnit: unit,
  };
}
