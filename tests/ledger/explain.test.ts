import { describe, expect, it } from 'vitest';
import * as z from 'zod/mini';
import { explainEvent } from '../../src/ledger/check-event.ts';
import { explainHeader } from '../../src/ledger/check-header.ts';
import { explainIssues, type SourceOf, show } from '../../src/ledger/explain.ts';
import { quantity, text } from '../../src/ledger/quantity.ts';

const TUB = { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 };
const HEAD = { format: 'bathbook/1', shop: {}, baths: { dirty: TUB } };
const unknown: SourceOf = () => undefined;

const inEvent = (keys: object, source = unknown) =>
  explainEvent({ id: 'e1', at: '2026-11-02T07:40:00-04:00', ...keys }, null, source);
const inHead = (keys: object, source = unknown) => explainHeader({ ...HEAD, ...keys }, source);
const wash = (keys: object, source = unknown) => inEvent({ what: 'wash', area_cm2: 9, ...keys }, source);
const fill = (keys: object, source = unknown) =>
  inEvent({ what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000, ...keys }, source);
const reading = (keys: object) => inEvent({ what: 'reading', bath: 'dirty', ...keys });

const finding = (code: string, path: (string | number)[], message: string, help: string) => [
  { code, path, message, help },
];

describe('a key that no such place has', () => {
  it.each<[string, ReturnType<typeof wash>, (string | number)[], string, string]>([
    [
      'of an event, misspelt',
      wash({ drained: 5 }),
      ['drained'],
      '"drained" in this wash',
      'Did you mean "drained_min"?',
    ],
    [
      'of an event, far from any',
      fill({ zzzqqq: 5 }),
      ['zzzqqq'],
      '"zzzqqq" in this fill',
      'Use one of id, at, what, bath, solvent, ml, logged, by, note, or move the words into note: "…"',
    ],
    [
      'inside a value of an event',
      reading({ residue: { sample_ml: 10, dry_g: 0.1, zzzqqq: 1 } }),
      ['residue', 'zzzqqq'],
      '"zzzqqq" under "residue"',
      'Use one of sample_ml, dry_g, or move the words into note: "…"',
    ],
    [
      'of the head',
      inHead({ zzzqqq: 5 }),
      ['zzzqqq'],
      '"zzzqqq" in the head',
      'Use one of format, shop, factors, baths, limits, solvents, resins, parts',
    ],
    [
      'of the head, misspelt',
      inHead({ solvent: {} }),
      ['solvent'],
      '"solvent" in the head',
      'Did you mean "solvents"?',
    ],
    [
      'inside the head',
      inHead({ shop: { defaults: { zzzqqq: 5 } } }),
      ['shop', 'defaults', 'zzzqqq'],
      '"zzzqqq" under "shop.defaults"',
      'Use one of resin, drained_min, prerinse, midrinse, minutes, agitation',
    ],
    [
      'of a bath',
      inHead({ baths: { dirty: { ...TUB, tub: 1 } } }),
      ['baths', 'dirty', 'tub'],
      '"tub" under "baths.dirty"',
      'Did you mean "tub_ml"?',
    ],
  ])('%s', (_, found, path, where, help) => {
    expect(found).toEqual([
      { code: 'unknown-key', message: `Cannot use the key ${where}`, help, path, atKey: true },
    ]);
  });

  it('is told beside others of the same place', () => {
    expect(fill({ colour: 1, zzzqqq: 2 }).map(({ path }) => path)).toEqual([['colour'], ['zzzqqq']]);
  });
});

describe('a name that none can be', () => {
  const allowed = 'allowed is a name of 1 to 40 letters, digits, "-", "_" or ".", first a letter or digit';
  it.each<[string, ReturnType<typeof wash>, string[]]>([
    ['a b', inEvent({ what: 'wash', parts: { 'a b': 1 } }), ['parts', 'a b']],
    ['-x', inHead({ solvents: { '-x': { ipa_wt_pct: 90 } } }), ['solvents', '-x']],
  ])('%j', (name, found, path) => {
    const message = `Cannot use "${name}" as a name, ${allowed}`;
    expect(found).toEqual([
      {
        code: 'bad-name',
        message,
        help: expect.stringMatching(/^Rename it.*in the events/),
        path,
        atKey: true,
      },
    ]);
  });

  it('as a value is no text for its key', () => {
    expect(fill({ bath: 'a b' })).toMatchObject([
      { code: 'bad-text', path: ['bath'], message: `Cannot take bath: "a b", ${allowed}` },
    ]);
  });
});

describe('a key that is missing', () => {
  it.each<[string, ReturnType<typeof wash>, (string | number)[], string, string]>([
    [
      'from an event',
      inEvent({ what: 'fill', bath: 'dirty', solvent: 'x' }),
      [],
      'this fill without "ml"',
      'Add ml: above 0, up to 1000000 mL',
    ],
    [
      'that holds one of some words',
      inEvent({ what: 'inspect' }),
      [],
      'this inspect without "result"',
      'Add result: ok, sticky, cloudy, soft, cracked or residue',
    ],
    [
      'from a value',
      reading({ residue: { sample_ml: 10 } }),
      ['residue'],
      '"residue" without "dry_g"',
      'Add dry_g: 0 to 1000 g',
    ],
    [
      'from the head',
      inHead({ baths: undefined }),
      [],
      'the head without "baths"',
      'Add baths: a map of baths, like dirty: {mark_ml: 4000, …}',
    ],
    [
      'from a bath',
      inHead({ baths: { dirty: { ...TUB, width_mm: undefined } } }),
      ['baths', 'dirty'],
      '"baths.dirty" without "width_mm"',
      'Add width_mm: above 0, up to 10000 mm',
    ],
    [
      'from a part',
      inHead({ parts: { own: { volume_ml: 5 } } }),
      ['parts', 'own'],
      '"parts.own" without "shape"',
      'Add shape: solid, small, sheet, mask or hollow',
    ],
  ])('%s', (_, found, path, what, help) => {
    expect(found).toEqual(finding('missing-key', path, `Cannot read ${what}`, help));
  });
});

describe('text without quotes', () => {
  const written = (characters: string, ...place: (string | number)[]): SourceOf => {
    return (path) => (path.join() === place.join() ? characters : undefined);
  };
  it.each<[string, ReturnType<typeof wash>, (string | number)[], string, string]>([
    ['a number', wash({ lot: 7 }), ['lot'], 'lot: 7, without quotes it is read as the number 7', 'lot: "7"'],
    [
      'a number as it stands there',
      wash({ lot: 7 }, written('007', 'lot')),
      ['lot'],
      'lot: 007, without quotes it is read as the number 7',
      'lot: "007"',
    ],
    [
      'an id',
      fill({ id: 100000 }, written('1e5', 'id')),
      ['id'],
      'id: 1e5, without quotes it is read as the number 100000',
      'id: "1e5"',
    ],
    [
      'one of a list',
      wash({ cases: ['26-1', 42] }, written('0042', 'cases', 1)),
      ['cases', 1],
      'cases: 0042, without quotes it is read as the number 42',
      'cases: "0042"',
    ],
    [
      'a word for yes',
      fill({ by: true }),
      ['by'],
      'by: true, without quotes it is read as the value true',
      'by: "true"',
    ],
    [
      'a word for no',
      fill({ note: false }, written('False', 'note')),
      ['note'],
      'note: False, without quotes it is read as the value false',
      'note: "False"',
    ],
    [
      'in the head',
      inHead({ shop: { name: 5 } }),
      ['shop', 'name'],
      'name: 5, without quotes it is read as the number 5',
      'name: "5"',
    ],
  ])('%s', (_, found, path, message, help) => {
    expect(found).toEqual(
      finding('text-needs-quotes', path, `Cannot take ${message}`, `Write it in quotes: ${help}`),
    );
  });
});

describe('a value of another type', () => {
  const time = 'a time like 2026-11-02T07:40:00-04:00';
  const volume = 'above 0, up to 1000000 mL';
  const label = 'text of 1 to 80 characters';
  const parts = 'a map of part names and counts, like {model: 6}';
  const minutes = 'a list of minutes, one for each bath';
  const residue = 'a map like {sample_ml: 10, dry_g: 0.16}';
  it.each<[string, ReturnType<typeof wash>, (string | number)[], string, string]>([
    // Quotes would not make a time of a number.
    ['a number for a time', fill({ at: 2026 }), ['at'], '2026', time],
    ['nothing for a time', fill({ logged: null }), ['logged'], 'nothing', time],
    ['nothing for text', fill({ by: null }), ['by'], 'nothing', label],
    ['a list for text', fill({ by: ['NB'] }), ['by'], 'a list', label],
    ['a map for text', fill({ by: {} }), ['by'], 'a map', label],
    ['nothing for a number', fill({ ml: null }), ['ml'], 'nothing', volume],
    ['a truth for a number', fill({ ml: true }), ['ml'], 'true', volume],
    ['a list for a number', fill({ ml: [1] }), ['ml'], 'a list', volume],
    ['a number for a list', wash({ minutes: 5 }), ['minutes'], '5', minutes],
    ['text for a list', wash({ minutes: '5, 5' }), ['minutes'], '"5, 5"', minutes],
    ['text for a truth', wash({ hollow: 'yes' }), ['hollow'], '"yes"', 'true or false'],
    ['a number for a map', reading({ residue: 5 }), ['residue'], '5', residue],
    ['a list for a map', inEvent({ what: 'wash', parts: ['model'] }), ['parts'], 'a list', parts],
    ['nothing inside a list', wash({ minutes: [5, null] }), ['minutes', 1], 'nothing', '0 to 1440 minutes'],
    [
      'nothing for the baths',
      inHead({ baths: null }),
      ['baths'],
      'nothing',
      'a map of baths, like dirty: {mark_ml: 4000, …}',
    ],
  ])('%s', (_, found, path, shown, allowed) => {
    const key = path.findLast((one) => typeof one === 'string');
    const message = `Cannot take ${key}: ${shown}, allowed is ${allowed}`;
    expect(found).toEqual(finding('wrong-type', path, message, `Write ${allowed}`));
  });

  it('that has no key at all is a value', () => {
    const schema = z.number('a number');
    const value = 'x';
    const { issues } = schema.safeParse(value).error!;
    expect(explainIssues(issues, { value, schema, place: 'this', source: unknown })).toMatchObject([
      { message: 'Cannot take value: "x", allowed is a number', path: [] },
    ]);
  });
});

describe('text where a number stands', () => {
  const volume = 'above 0, up to 1000000 mL';
  const bare = (key: string, value: string, allowed: string) =>
    `Cannot take ${key}: "${value}", the key holds a bare number (allowed is ${allowed})`;
  it.each<[string, string]>([
    ['4 L', '4000'],
    ['4000mL', '4000'],
    ['4.5 l', '4500'],
    ['-1 gal', '-3785.411784'],
  ])('of %j is told in the unit of its key: %s', (ml, number) => {
    expect(fill({ ml })).toEqual(
      finding('wrong-unit', ['ml'], bare('ml', ml, volume), `Write ml: ${number}`),
    );
  });

  it('of a list is told by the key of the list', () => {
    expect(wash({ minutes: [5, '1 h'] })).toEqual(
      finding('wrong-unit', ['minutes', 1], bare('minutes', '1 h', '0 to 1440 minutes'), 'Write minutes: 60'),
    );
  });

  const plain = 'Write a plain decimal without a unit';
  it.each([
    ['4000', 'Write ml: 4000 without quotes'],
    ['0.5', 'Write ml: 0.5 without quotes'],
    ['-5', 'Write ml: -5 without quotes'],
    ['four', plain],
    ['4 buckets', plain],
    ['4 kg', plain],
    ['4,5', plain],
    ['', plain],
    ['  ', plain],
    ['Infinity', plain],
    ['NaN', plain],
  ])('%j is answered: %s', (ml, help) => {
    expect(fill({ ml })).toEqual(
      finding('wrong-type', ['ml'], `Cannot take ml: "${ml}", allowed is ${volume}`, help),
    );
  });
});

describe('a word that is none of those allowed', () => {
  it.each<[string, ReturnType<typeof wash>, string, string, string, string]>([
    [
      'misspelt',
      wash({ agitation: 'stired' }),
      'agitation',
      '"stired"',
      'still, hand, stirred or ultrasonic',
      'Did you mean "stirred"?',
    ],
    [
      'far from any',
      wash({ agitation: 'zzzqqq' }),
      'agitation',
      '"zzzqqq"',
      'still, hand, stirred or ultrasonic',
      'Write agitation: still',
    ],
    [
      'a number',
      wash({ agitation: 5 }),
      'agitation',
      '5',
      'still, hand, stirred or ultrasonic',
      'Write agitation: still',
    ],
    [
      'nothing',
      wash({ midrinse: null }),
      'midrinse',
      'nothing',
      'none, spray or brush',
      'Write midrinse: none',
    ],
    [
      'of two',
      inEvent({ what: 'top-up', bath: 'b', solvent: 's', ml: 1, from: 'zzz' }),
      'from',
      '"zzz"',
      'stock or clean',
      'Write from: stock',
    ],
    ['of one', inEvent({ what: 'drain', bath: 'b', to: 'brim' }), 'to', '"brim"', 'mark', 'Write to: mark'],
    [
      'no truth',
      inEvent({ what: 'drain', bath: 'b', all: false }),
      'all',
      'false',
      'true',
      'Write all: true',
    ],
  ])('%s', (_, found, key, shown, allowed, help) => {
    const message = `Cannot take ${key}: ${shown}, allowed is ${allowed}`;
    expect(found).toEqual(finding('unknown-word', [key], message, help));
  });
});

describe('a number out of its range', () => {
  const usual = 'Correct the value; mind the unit in the name of the key';
  it.each<[string, string, ReturnType<typeof wash>, (string | number)[], string, string]>([
    [
      'too small',
      'out-of-range',
      fill({ ml: 0 }),
      ['ml'],
      'ml: 0, allowed is above 0, up to 1000000 mL',
      usual,
    ],
    [
      'too large',
      'out-of-range',
      fill({ ml: 1_000_001 }),
      ['ml'],
      'ml: 1000001, allowed is above 0, up to 1000000 mL',
      usual,
    ],
    [
      'as it stands there',
      'out-of-range',
      fill({ ml: -4000 }, () => '-4000.0'),
      ['ml'],
      'ml: -4000.0, allowed is above 0, up to 1000000 mL',
      usual,
    ],
    [
      'in a list',
      'out-of-range',
      wash({ minutes: [5, 5000] }),
      ['minutes', 1],
      'minutes: 5000, allowed is 0 to 1440 minutes',
      usual,
    ],
    [
      'no whole count',
      'not-whole',
      inEvent({ what: 'wash', parts: { model: 2.5 } }),
      ['parts', 'model'],
      'model: 2.5, allowed is whole numbers, 1 to 1000',
      usual,
    ],
    [
      'a count of none',
      'out-of-range',
      inEvent({ what: 'wash', parts: { model: 0 } }),
      ['parts', 'model'],
      'model: 0, allowed is whole numbers, 1 to 1000',
      usual,
    ],
    [
      'of a reading, with its slip',
      'out-of-range',
      reading({ density_g_ml: 803 }),
      ['density_g_ml'],
      'density_g_ml: 803, allowed is 0.7 to 1.25 g/mL',
      '803 is in kg/m³: write density_g_ml: 0.803',
    ],
    [
      'of its temperature',
      'out-of-range',
      reading({ brix: 31, temp_c: 72 }),
      ['temp_c'],
      'temp_c: 72, allowed is 10 to 40 °C',
      '72 °F is 22.2 °C: write temp_c: 22.2',
    ],
    [
      'of a reading, no slip known',
      'out-of-range',
      reading({ resin_wt_pct: 101 }),
      ['resin_wt_pct'],
      'resin_wt_pct: 101, allowed is 0 to 100 wt%',
      usual,
    ],
    // A key of the same name elsewhere is no reading of a bath.
    [
      'of a resin',
      'out-of-range',
      inHead({ resins: { grey: { density_g_ml: 1110 } } }),
      ['resins', 'grey', 'density_g_ml'],
      'density_g_ml: 1110, allowed is 0.8 to 3 g/mL',
      usual,
    ],
    [
      'of a part by the name of an instrument',
      'out-of-range',
      inEvent({ what: 'wash', parts: { brix: 1001 } }),
      ['parts', 'brix'],
      'brix: 1001, allowed is whole numbers, 1 to 1000',
      usual,
    ],
  ])('%s', (_, code, found, path, message, help) => {
    expect(found).toEqual(finding(code, path, `Cannot take ${message}`, help));
  });
});

describe('text that its key cannot hold', () => {
  const label = 'text of 1 to 80 characters';
  it.each<[string, ReturnType<typeof wash>, (string | number)[], string, string]>([
    ['no text', fill({ by: '' }), ['by'], 'by: ""', label],
    ['blanks', fill({ by: '  ' }), ['by'], 'by: "  "', label],
    ['too long', fill({ by: 'x'.repeat(81) }), ['by'], `by: "${'x'.repeat(59)}…"`, label],
    // Both too long and of blanks alone: one place, told once.
    ['too many blanks', fill({ by: ' '.repeat(81) }), ['by'], `by: "${' '.repeat(59)}…"`, label],
    [
      'blanks in an id',
      fill({ id: 'a b' }),
      ['id'],
      'id: "a b"',
      'text of 1 to 64 characters without blanks',
    ],
    ['in a list', wash({ cases: ['1', ''] }), ['cases', 1], 'cases: ""', label],
    [
      'no currency',
      inHead({ shop: { currency: 'cad' } }),
      ['shop', 'currency'],
      'currency: "cad"',
      'three capital letters, like CAD',
    ],
  ])('%s', (_, found, path, shown, allowed) => {
    const message = `Cannot take ${shown}, allowed is ${allowed}`;
    expect(found).toEqual(finding('bad-text', path, message, `Write ${allowed}`));
  });

  it.each<[string, number[]]>([
    ['two', [8, 10]],
    ['four', [8, 10, 20, 30]],
  ])('limits are three, not %s', (_, limits) => {
    expect(inHead({ limits: { dirty_resin: limits } })).toMatchObject([
      { path: ['limits', 'dirty_resin'], message: expect.stringMatching(/allowed is three limits/) },
    ]);
  });

  it('may be of the longest that is allowed', () => {
    expect(fill({ by: 'x'.repeat(80), id: 'y'.repeat(64) })).toEqual([]);
  });
});

describe('several faults of one value', () => {
  it('are told one by one, in the order of the schema', () => {
    const found = wash({ minutes: [5, 'x'], lot: true, by: '', hollow: 'yes', colour: 1 });
    expect(found.map(({ code, path }) => [code, ...path])).toEqual([
      ['wrong-type', 'minutes', 1],
      ['text-needs-quotes', 'lot'],
      ['wrong-type', 'hollow'],
      ['bad-text', 'by'],
      ['unknown-key', 'colour'],
    ]);
  });

  it('at one place are told once, by the first', () => {
    const schema = z.object({ by: text(3), ml: quantity({ unit: 'mL', min: 5, max: 9 }) });
    const value = { by: 'abcdef', ml: 1 };
    const { issues } = schema.safeParse(value).error!;
    const again = issues.map((issue) => ({ ...issue, message: 'said again' }));
    const found = explainIssues([...issues, ...again], { value, schema, place: 'this', source: unknown });
    expect(found.map(({ message }) => message)).toEqual([
      'Cannot take by: "abcdef", allowed is text of 1 to 3 characters',
      'Cannot take ml: 1, allowed is 5 to 9 mL',
    ]);
  });
});

describe('a value in the words of the file', () => {
  it.each([
    ['x', '"x"'],
    ['', '""'],
    ['a "b"', '"a \\"b\\""'],
    ['x'.repeat(60), `"${'x'.repeat(60)}"`],
    ['x'.repeat(61), `"${'x'.repeat(59)}…"`],
    [4.5, '4.5'],
    [0, '0'],
    [false, 'false'],
    [null, 'nothing'],
    [undefined, 'nothing'],
    [[], 'a list'],
    [{}, 'a map'],
  ])('%j: %s', (value, words) => {
    expect(show(value)).toBe(words);
  });
});
