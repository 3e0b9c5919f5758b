import { unit } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { type Kind, parseQuantity, UNITS } from '../../src/substance/units.ts';

/** Our base units and spellings, as mathjs writes them. */
const BASE: Record<Kind, string> = {
  volume: 'ml',
  mass: 'g',
  duration: 'minute',
  temperature: 'degC',
  area: 'cm^2',
  length: 'mm',
};
const AS_MATHJS: Record<string, string> = {
  cl: 'cl',
  dl: 'dl',
  gal: 'gallon',
  qt: 'quart',
  pt: 'pint',
  floz: 'fluidounce',
  cm3: 'cm^3',
  oz: 'ounce',
  lb: 'lbm',
  min: 'minute',
  s: 's',
  h: 'hour',
  d: 'day',
  c: 'degC',
  f: 'degF',
  k: 'K',
  cm2: 'cm^2',
  mm2: 'mm^2',
  dm2: 'dm^2',
  m2: 'm^2',
  in2: 'in^2',
  in: 'inch',
};

const every = (Object.keys(UNITS) as Kind[]).flatMap((kind) =>
  Object.keys(UNITS[kind]).map((name) => [kind, name] as const),
);

describe('parseQuantity', () => {
  it.each(every)('reads the %s unit "%s" as mathjs does', (kind, name) => {
    const ours = amount(`12.5 ${name}`, kind);
    const theirs = unit(12.5, AS_MATHJS[name] ?? name).toNumber(BASE[kind]);
    expect(Math.abs(ours / theirs - 1)).toBeLessThan(1e-9);
  });

  it('takes a US gallon for 231 cubic inches, with 4 quarts, 8 pints, 128 fluid ounces (NIST SP 811)', () => {
    const gallon = 231 * 2.54 ** 3;
    expect(amount('1 gal', 'volume')).toBeCloseTo(gallon, 9);
    expect(amount('4 qt', 'volume')).toBeCloseTo(gallon, 9);
    expect(amount('8 pt', 'volume')).toBeCloseTo(gallon, 9);
    expect(amount('128 floz', 'volume')).toBeCloseTo(gallon, 9);
  });

  it.each([
    ['4L', 'volume', 4000], ['4 l', 'volume', 4000], ['250mL', 'volume', 250], ['250 ML', 'volume', 250],
    ['1,5 L', 'volume', 1500], ['0,125 L', 'volume', 125], ['.5 L', 'volume', 500], ['8 fl oz', 'volume', 236.5882365],
    ['300', 'volume', 300], ['72 F', 'temperature', 200 / 9], ['72 °F', 'temperature', 200 / 9], ['22', 'temperature', 22],
    ['-5 C', 'temperature', -5], ['1.5 h', 'duration', 90], ['1h30', 'duration', 90], ['1h05min', 'duration', 65],
    ['90 s', 'duration', 1.5], ['overnight', 'duration', 720], ['Overnight', 'duration', 720], ['45', 'duration', 45],
    ['340 cm²', 'area', 340], ['6 g', 'mass', 6], ['2 lbs', 'mass', 907.18474], ['10 in', 'length', 254],
  ] as [string, Kind, number][])('reads "%s" as a %s of %f', (text, kind, expected) => {
    expect(amount(text, kind)).toBeCloseTo(expected, 9);
  }); // biome-ignore format: cases

  it('refuses a comma that could part thousands, and gives both readings', () => {
    expect(parseQuantity('1,500 L', 'volume')).toMatchObject({
      message: 'Cannot tell what "1,500" means, 1.500 or 1500',
    });
  });

  it.each([
    ['', 'volume'], ['lots', 'volume'], ['1.2.3 L', 'volume'], ['1e3 L', 'volume'], ['--4 L', 'volume'], ['4 5 L', 'volume'],
    ['NaN', 'mass'], ['Infinity', 'mass'],
  ] as [string, Kind][])('refuses "%s" as a %s, with an example', (text, kind) => {
    expect(parseQuantity(text, kind)).toMatchObject({
      message: expect.stringContaining(`"${text}"`),
      help: expect.stringMatching(/\d/),
    });
  }); // biome-ignore format: cases

  it('refuses a unit of another kind, and lists the units there are', () => {
    expect(parseQuantity('4 g', 'volume')).toMatchObject({
      message: 'Cannot read "4 g" as a volume, "g" is no unit of volume',
      help: expect.stringContaining('mL, cL, dL, L, cm3, gal, qt, pt, floz'),
    });
  });

  it('does not take the names of objects for units', () => {
    expect(parseQuantity('4 constructor', 'volume')).toHaveProperty('message');
    expect(parseQuantity('4 tostring', 'mass')).toHaveProperty('message');
  });

  it('names a unit it does not know, for a guess at what was meant', () => {
    expect(parseQuantity('4 galx', 'volume')).toMatchObject({ unknownUnit: 'galx' });
  });
});

function amount(text: string, kind: Kind): number {
  const parsed = parseQuantity(text, kind);
  if ('value' in parsed) return parsed.value;
  throw new Error(parsed.message);
}
