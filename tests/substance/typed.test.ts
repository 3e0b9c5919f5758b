/** Numbers, durations and unit names as people type them; spellings are common English ones, no source. */
import { describe, expect, it } from 'vitest';
import { typedDuration } from '../../src/substance/typed-duration.ts';
import { typedNumber } from '../../src/substance/typed-number.ts';
import { type Kind, parseQuantity } from '../../src/substance/units.ts';

describe('a number', () => {
  it.each([
    ['12', 12], ['+12.5', 12.5], ['-12.5', -12.5], ['.25', 0.25], ['7.', 7], ['2,5', 2.5], ['-2,75', -2.75], ['+,125', 0.125],
    ['1250,75', 1250.75], ['1 250', 1250], ['-1 250,75', -1250.75], ['1\u00a0250', 1250], ['1\u2009250', 1250], ['1’250.75', 1250.75],
    ['+1,250.75', 1250.75], ['-1.250,75', -1250.75], ['12,345,678', 12345678], ['-1.250.125', -1250125], ['1,250,125.375', 1250125.375],
    ['+1.250.125,375', 1250125.375], ['1 250 125.375', 1250125.375], ['0,125', 0.125], ['012,345', 12.345],
  ] as [string, number][])('%s is %f', (text, value) => {
    expect(typedNumber(text)).toBe(value);
  }); // biome-ignore format: cases

  it.each([
    ['1,250', 1.25, 1250], ['+12,500', 12.5, 12500], ['-999,125', -999.125, -999125],
  ] as [string, number, number][])('%s is %f or %f', (text, one, other) => {
    expect(typedNumber(text)).toEqual({ either: [one, other] });
  }); // biome-ignore format: cases

  it.each([
    '', '.', ',', '+', '--1', 'x1', '1x', '1e5', '1,2,3', '1.2.3', '1,250.5.5', '1 250x', 'x1 250', '1 25', '1 2500', '1’250 125', '0,125,250',
    'x1,250.5', '1,250.5x', 'x1,250,125', '1,250,125x', '1,250,12', '1a,250.5', '1a,250', '1a,250,125', 'x2,5', '1,ab0.5', '1,25.5', '1 250,5,5',
  ])('%j is none', (text) => {
    expect(typedNumber(text)).toBeUndefined();
  }); // biome-ignore format: cases
});

describe('a duration in pieces', () => {
  const WORDS: Record<string, string> = {
    d: 'day days', h: 'hr hrs hour hours', m: 'min mins minute minutes', s: 'sec secs second seconds',
  }; // biome-ignore format: cases
  it.each(Object.entries(WORDS).flatMap(([one, words]) => words.split(' ').map((word) => [word, one])))(
    '%s is a word for %s',
    (word, one) => {
      const whole = one === 's' ? '2 h' : '2 s';
      const typed = (unit: string) => (one === 's' ? `${whole} 3 ${unit}` : `3 ${unit} ${whole}`);
      expect(typedDuration(typed(word!))).toBe(typedDuration(typed(one!)));
      expect(typedDuration(typed(word!))).toBeGreaterThan(0);
    },
  );

  it.each([
    [' 1h30 ', 90], ['1H05', 65], ['1h5', 65], ['1  h  30', 90], ['26h10', 1570], ['100:00:30', 6000.5], [' 0:59:59 ', 59 + 59 / 60],
    ['1d12h', 2160], ['90 min 30 s', 90.5], ['36 h 1 min', 2161], ['1 day 23 hours 59 min 59 s', 2879 + 59 / 60], ['61 s 0 s', undefined],
  ] as [string, number | undefined][])('%j is %s minutes', (text, minutes) => {
    if (minutes === undefined) expect(typedDuration(text)).toBeUndefined();
    else expect(typedDuration(text)).toBeCloseTo(minutes, 9);
  }); // biome-ignore format: cases

  it.each([
    '', '30', '5 min', 'x1h30', '1h30x', '1xh30', '1h60', '1h 99', 'x1:30', '1:30x', '1:60', '1:30:60', '1000:00:00', '1:3', '1 day 24 h', '1 h 60 min',
    '2 min 60 s', '5 parsecs 3 s', 'x 1 h 30 min', '1 h 30 min 5', '1 hour 5 minx', '1 d 1 h 1 min 1 s 1 s', '1 min 1 h', '3 s 3 s',
  ])('%j is none', (text) => {
    expect(typedDuration(text)).toBeUndefined();
  }); // biome-ignore format: cases
});

describe('a unit', () => {
  const NAMES: [Kind, Record<string, string>][] = [
    ['volume', {
      mL: 'ml millilitre millilitres milliliter milliliters mls', cl: 'centilitre centilitres centiliter centiliters',
      dl: 'decilitre decilitres deciliter deciliters', L: 'l litre litres liter liters ltr', cm3: 'cc cm³',
      gal: 'gallon gallons us_gal US_gallon US_gallons', qt: 'quart quarts us_qt us_quart us_quarts', pt: 'pint pints us_pt us_pint us_pints',
      floz: 'fl_oz fl._oz. fluid_ounce fluid_ounces us_floz us_fl_oz',
      imp_gal: 'uk_gal impgal imp_gallon imp_gallons imperial_gallon imperial_gallons uk_gallon uk_gallons',
      imp_qt: 'uk_qt imp_quart imp_quarts imperial_quart imperial_quarts', imp_pt: 'uk_pt imp_pint imp_pints imperial_pint imperial_pints',
      imp_floz: 'imp_fl_oz uk_floz uk_fl_oz imperial_fl_oz',
    }],
    ['mass', { g: 'gram grams gr', mg: 'milligram milligrams', kg: 'kilogram kilograms kilo kilos', lb: 'pound pounds lbs', oz: 'ounce ounces' }],
    ['duration', { min: 'minute minutes mins m', s: 'sec secs second seconds', h: 'hour hours hr hrs', d: 'day days' }],
    ['temperature', {
      C: '°C celsius degC deg_C degree_C degrees_C degrees_celsius', F: '°F fahrenheit degF deg_F degree_F degrees_F degrees_fahrenheit', K: 'kelvin',
    }],
    ['area', { cm2: 'cm² sq_cm', mm2: 'mm² sq_mm', in2: 'in² sq_in', m2: 'm²' }],
    ['length', { in: 'inch inches', mm: 'millimetre millimetres millimeter millimeters', cm: 'centimetre centimetres centimeter centimeters' }],
  ]; // biome-ignore format: cases

  const all = NAMES.flatMap(([kind, names]) =>
    Object.entries(names).flatMap(([name, others]) =>
      others.split(' ').map((other) => [kind, other, name] as const),
    ),
  );
  it.each(all.map((one) => one.map((word) => word.replaceAll('_', ' ')) as [Kind, string, string]))(
    'of %s: %s is %s',
    (kind, other, name) => {
      const [one, same] = [parseQuantity(`2.5 ${other}`, kind), parseQuantity(`2.5 ${name}`, kind)];
      expect(one).toEqual(same);
      expect(one).toHaveProperty('value', expect.any(Number));
    },
  );

  it('of another kind is not taken', () => {
    for (const [kind, word] of [['mass', 'litre'], ['volume', 'gram'], ['duration', 'inch'], ['area', 'mm'], ['length', 'sec']] as const)
      expect(parseQuantity(`2 ${word}`, kind)).toMatchObject({ unknownUnit: word });
    expect(parseQuantity('overnight', 'volume')).toHaveProperty('message');
    expect(parseQuantity('not overnight', 'duration')).toHaveProperty('message');
    expect(parseQuantity('overnight too', 'duration')).toHaveProperty('message');
  }); // biome-ignore format: cases

  it('may have blanks about it', () => {
    expect(parseQuantity('  2 L  ', 'volume')).toEqual({ value: 2000 });
    expect(parseQuantity('\t2   fl  oz\n', 'volume')).toEqual(parseQuantity('2 floz', 'volume'));
  });

  it.each([
    ['volume', '4 L', 'mL', 'mL, cL, dL, L, cm3, gal, qt, pt, floz, imp gal, imp qt, imp pt, imp floz'],
    ['mass', '6 g', 'g', 'g, mg, kg, oz, lb'],
    ['duration', '1.5 h', 'minutes', 'min, s, h, d'],
    ['temperature', '22 C', '°C', 'C, F, K'],
    ['area', '340 cm2', 'cm²', 'cm2, mm2, dm2, m2, in2'],
    ['length', '260 mm', 'mm', 'mm, cm, m, in'],
  ] as [Kind, string, string, string][])(
    'of %s: what is wrong tells what is right',
    (kind, example, base, units) => {
      expect(parseQuantity('much', kind)).toEqual({
        message: `Cannot read "much" as a ${kind}`,
        help: `write it like "${example}", or a bare number of ${base}`,
      });
      expect(parseQuantity('2 cubits', kind)).toEqual({
        message: `Cannot read "2 cubits" as a ${kind}, "cubits" is no unit of ${kind}`,
        help: `Units are ${units}; a bare number is ${base}`,
        unknownUnit: 'cubits',
      });
      expect(parseQuantity(example, kind)).toHaveProperty('value');
    },
  );
});
