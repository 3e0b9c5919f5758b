/**
 * Quantities as people type them, turned into the base unit: `4 L`, `1 gal`, `72 F`, `1.5 h`, `1h30`, `overnight`.
 */

export type Kind = 'volume' | 'mass' | 'duration' | 'temperature' | 'area' | 'length';

export interface Unit {
  /** Base units in one of it. */
  factor: number;
  /** Added after the factor; for temperatures. */
  offset?: number;
}

/**
 * Base units: mL, g, min, °C, cm², mm. Exact by definition: 1 US gallon = 231 in³ = 3785.411784 mL, 1 lb = 453.59237 g,
 * 1 in = 25.4 mm (NIST SP 811, appendix B).
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

/** Other spellings of the units, in lower case. */
const ALIASES: Record<string, string> = {
  litre: 'l',
  litres: 'l',
  liter: 'l',
  liters: 'l',
  cc: 'cm3',
  gallon: 'gal',
  gallons: 'gal',
  quart: 'qt',
  quarts: 'qt',
  'fl oz': 'floz',
  fl_oz: 'floz',
  gram: 'g',
  grams: 'g',
  kilogram: 'kg',
  kilograms: 'kg',
  pound: 'lb',
  pounds: 'lb',
  lbs: 'lb',
  ounce: 'oz',
  ounces: 'oz',
  minute: 'min',
  minutes: 'min',
  mins: 'min',
  m: 'min',
  sec: 's',
  secs: 's',
  second: 's',
  seconds: 's',
  hour: 'h',
  hours: 'h',
  hr: 'h',
  hrs: 'h',
  day: 'd',
  days: 'd',
  celsius: 'c',
  fahrenheit: 'f',
  kelvin: 'k',
  inch: 'in',
  inches: 'in',
};

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
    const clock = /^(\d+)\s*h\s*(\d{1,2})\s*(?:m|min)?$/i.exec(typed);
    if (clock) return { value: Number(clock[1]) * 60 + Number(clock[2]) };
  }
  const found = /^([+-]?[\d.,]+)\s*°?\s*([a-zµ²³_ ]*\d?)$/i.exec(typed);
  if (!found) return unreadable(text, kind);
  const number = parseNumber(found[1]!);
  if (typeof number !== 'number') return number === null ? unreadable(text, kind) : number;
  const unit = unitOf(found[2]!.trim(), kind);
  return unit
    ? { value: number * unit.factor + (unit.offset ?? 0) }
    : unknownUnit(found[2]!.trim(), text, kind);
}

/** A plain number; a single comma is a decimal comma unless it could part thousands. */
function parseNumber(text: string): number | null | { message: string; help: string } {
  if (/^[+-]?(?:\d+\.?\d*|\.\d+)$/.test(text)) return Number(text);
  if (/^[+-]?\d{1,3}(?:,\d{3})+$/.test(text) && !/^[+-]?0,/.test(text)) {
    return {
      message: `Cannot tell what "${text}" means, ${text.replace(',', '.')} or ${text.replaceAll(',', '')}`,
      help: 'write the decimal with a point, and thousands without a comma',
    };
  }
  return /^[+-]?\d+,\d+$/.test(text) ? Number(text.replace(',', '.')) : null;
}

function unitOf(name: string, kind: Kind): Unit | undefined {
  if (name === '') return { factor: 1 };
  const plain = name.toLowerCase().replace('²', '2').replace('³', '3');
  const units = UNITS[kind];
  if (Object.hasOwn(units, plain)) return units[plain];
  const alias = ALIASES[plain];
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
