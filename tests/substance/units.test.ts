import { createUnit, unit } from 'mathjs';
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
  'imp gal': 'impgallon',
  'imp qt': 'impquart',
  'imp pt': 'imppint',
  'imp floz': 'impfluidounce',
};

// mathjs has US measures alone. An imperial gallon is 4.54609 L by definition (NIST SP 811, appendix B.8), four quarts, eight
// pints of twenty fluid ounces.
createUnit('impgallon', '4.54609 l');
createUnit('impquart', '0.25 impgallon');
createUnit('imppint', '0.5 impquart');
createUnit('impfluidounce', '0.05 imppint');

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

  it.each([
    ['1 imp gal', 4546.09], ['1 UK gallon', 4546.09], ['2 imp. pt', 1136.5225], ['1 US gal', 3785.411784], ['1gal', 3785.411784],
    ['1 250 mL', 1250], ["1'250 mL", 1250], ['1\u202f250 mL', 1250], ['1,250,000', 1_250_000], ['1,250.5 mL', 1250.5],
    ['1.250,5 mL', 1250.5], ['1 250,5 mL', 1250.5], ['2,5 L', 2500], [',5 L', 500], ['8 fl. oz.', 236.5882365],
    ['3 millilitres', 3], ['12 345 678', 12_345_678],
  ] as [string, number][])('reads "%s" as %f mL', (text, expected) => {
    expect(amount(text, 'volume')).toBeCloseTo(expected, 6);
  }); // biome-ignore format: cases

  it.each([
    ['72F', 200 / 9], ['72 deg F', 200 / 9], ['72 degrees Fahrenheit', 200 / 9], ['22,5 °C', 22.5],
  ] as [string, number][])('reads "%s" as %f °C', (text, expected) => {
    expect(amount(text, 'temperature')).toBeCloseTo(expected, 9);
  }); // biome-ignore format: cases

  it.each([
    ['1h30', 90], ['1 h 30 min', 90], ['1H30M', 90], ['2m30s', 2.5], ['5 min 30 s', 5.5], ['1:30:00', 90], ['0:02:30', 2.5],
    ['1 day 2 hours', 1560], ['90 s', 1.5], ['5 min', 5], ['2,5 min', 2.5],
  ] as [string, number][])('reads "%s" as %f minutes', (text, expected) => {
    expect(amount(text, 'duration')).toBeCloseTo(expected, 9);
  }); // biome-ignore format: cases

  it.each([
    ['1,500 L', 'volume', ['1.5 L', '1500 L']], ['1,250', 'volume', ['1.25', '1250']], ['-1,250 C', 'temperature', ['-1.25 C', '-1250 C']],
    ['1:30', 'duration', ['1h30', '1m30s']], ['12:05', 'duration', ['12h05', '12m05s']],
  ] as [string, Kind, [string, string]][])('refuses "%s", and gives both readings as they can be typed', (text, kind, either) => {
    expect(parseQuantity(text, kind)).toEqual({
      message: `Cannot tell what "${text}" means, ${either.join(' or ')}`,
      help: `type ${either.map((one) => (one.includes(' ') ? `"${one}"` : one)).join(' or ')}`,
    });
    const [first, second] = either.map((one) => amount(one, kind));
    expect(first).not.toBe(second);
  }); // biome-ignore format: cases

  it.each([
    ['1h90', 'duration'], ['30 s 5 min', 'duration'], ['5 min 90 s', 'duration'], ['1:90', 'duration'], ['5 min 5 min', 'duration'],
    ['1,25,000', 'volume'], ['1 25 L', 'volume'], ["1'250 000", 'volume'], ['1.250.5', 'volume'], ['0,125,000', 'volume'],
  ] as [string, Kind][])('refuses "%s" as a %s', (text, kind) => {
    expect(parseQuantity(text, kind)).toMatchObject({ message: expect.stringContaining('Cannot read') });
  }); // biome-ignore format: cases

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
