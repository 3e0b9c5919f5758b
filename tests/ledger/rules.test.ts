import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../src/ledger/check.ts';
import { checkEvent, explainEvent } from '../../src/ledger/check-event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { type Known, knownNames } from '../../src/ledger/names.ts';
import { bytesOf, FILL, ledger } from './sample.ts';

const TUB = { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 };
const withBaths = (...names: string[]): Known =>
  knownNames({
    format: 'bathbook/1',
    shop: {},
    baths: Object.fromEntries(names.map((name) => [name, TUB])),
  } as Header);
const pair = withBaths('dirty', 'clean');
const AT = '2026-11-02T07:40:00-04:00';

function found(keys: object, known: Known | null = pair) {
  const event = { id: 'e1', at: AT, ...keys };
  const findings = explainEvent(event, known, () => undefined);
  const sound = checkEvent(event, known);
  expect(sound !== null).toBe(findings.length === 0);
  if (sound !== null) expect(sound).toEqual({ event, atMs: Date.parse(event.at) });
  return findings;
}

/** Code and place of each finding; "key" where the key is meant, not its value. */
const told = (keys: object, known: Known | null = pair) =>
  found(keys, known).map(({ code, path, atKey }) => [code, ...path, ...(atKey ? ['key'] : [])].join(' '));

/** Message and help of the only finding. */
function words(keys: object, known: Known | null = pair) {
  const findings = found(keys, known);
  expect(findings).toHaveLength(1);
  return [findings[0]!.message, findings[0]!.help];
}

const wash = (keys: object) => ({ what: 'wash', ...keys });
const topUp = (keys: object) => ({ what: 'top-up', bath: 'dirty', ...keys });
const drain = (keys: object) => ({ what: 'drain', bath: 'dirty', ...keys });
const reading = (keys: object) => ({ what: 'reading', bath: 'dirty', ...keys });
const stock = (keys: object) => ({ what: 'stock', solvent: 'ipa99', ...keys });

describe('the load of a wash', () => {
  it.each<[object, string[]]>([
    [{ parts: { model: 1 } }, []],
    [{ volume_ml: 5 }, []],
    [{ area_cm2: 9 }, []],
    [{ volume_ml: 5, area_cm2: 9 }, []],
    [{}, ['not-one-of']],
    [{ parts: {} }, ['empty parts']],
    [{ parts: { model: 1 }, volume_ml: 5 }, ['not-together volume_ml key']],
    [{ parts: { model: 1 }, area_cm2: 9 }, ['not-together area_cm2 key']],
    [{ parts: { model: 1 }, volume_ml: 5, area_cm2: 9 }, ['not-together volume_ml key']],
    [{ parts: {}, area_cm2: 9 }, ['empty parts', 'not-together area_cm2 key']],
  ])('%j: %j', (keys, wanted) => {
    expect(told(wash(keys))).toEqual(wanted);
  });

  it('is asked for by the names of its keys', () => {
    const [message, help] = words(wash({}));
    expect(message).toMatch(/^Cannot read this wash .*"parts", "volume_ml" and "area_cm2"/);
    expect(help).toMatch(/parts: \{model: 6\}.*area_cm2: 690/);
    expect(words(wash({ parts: {} }))).toEqual([
      'Cannot take parts: {}, it names no part',
      expect.stringContaining('parts: {model: 6}'),
    ]);
  });

  it('is given once, and the two that say it are told', () => {
    const once = expect.stringMatching(/^Keep the one .* load/);
    expect(words(wash({ parts: { model: 1 }, volume_ml: 5 }))).toEqual([
      'Cannot use "parts" and "volume_ml" together',
      once,
    ]);
    expect(words(wash({ parts: { model: 1 }, area_cm2: 5 }))).toEqual([
      'Cannot use "parts" and "area_cm2" together',
      once,
    ]);
  });
});

describe('what a load carries over', () => {
  it.each<[object, string[]]>([
    [{ carry_g: 0 }, []],
    [{ carry_ml: 0 }, []],
    [{ carry_g: 0, carry_ml: 0 }, ['not-together carry_ml key']],
    [{ carry_g: 3, carry_ml: 4 }, ['not-together carry_ml key']],
  ])('%j: %j', (keys, wanted) => {
    expect(told(wash({ area_cm2: 9, ...keys }))).toEqual(wanted);
  });

  it('is weighed or measured, not both', () => {
    expect(words(wash({ area_cm2: 9, carry_g: 3, carry_ml: 4 }))).toEqual([
      'Cannot use "carry_g" and "carry_ml" together',
      expect.stringContaining('measured'),
    ]);
  });
});

describe('the baths of a wash', () => {
  it.each<[string[], string[]]>([
    [['dirty'], []],
    [['clean', 'dirty'], []],
    [[], ['empty baths']],
    [['dirty', 'dirty'], ['bath-twice baths 1']],
    [['dirty', 'clean', 'dirty'], ['bath-twice baths 2']],
    [['dirty', 'clean', 'clean', 'dirty'], ['bath-twice baths 2']],
  ])('%j: %j', (baths, wanted) => {
    expect(told(wash({ area_cm2: 9, baths }))).toEqual(wanted);
  });

  it('are named in what is told', () => {
    expect(words(wash({ area_cm2: 9, baths: ['dirty', 'clean', 'clean'] }))).toEqual([
      'Cannot wash in the bath "clean" twice in one wash',
      expect.stringContaining('second wash'),
    ]);
    expect(words(wash({ area_cm2: 9, baths: [] }))).toEqual([
      'Cannot take baths: [], it names no bath',
      expect.stringContaining('baths: [dirty, clean]'),
    ]);
  });

  it('that are none get no minutes counted against them', () => {
    expect(told(wash({ area_cm2: 9, baths: [], minutes: [5], drag_ml: [1] }))).toEqual(['empty baths']);
  });
});

describe('minutes and drag-out, one for each bath', () => {
  const three = withBaths('first', 'second', 'third');
  it.each<[string, object, Known | null, string[]]>([
    ['two for the usual pair', { minutes: [5, 5] }, pair, []],
    ['one for the usual pair', { minutes: [5] }, pair, ['wrong-count minutes']],
    ['three for the usual pair', { minutes: [5, 5, 5] }, pair, ['wrong-count minutes']],
    ['none for the usual pair', { minutes: [] }, pair, ['wrong-count minutes']],
    ['drag-out of two', { drag_ml: [9, 9] }, pair, []],
    ['drag-out of one', { drag_ml: [9] }, pair, ['wrong-count drag_ml']],
    ['both wrong', { minutes: [5], drag_ml: [9] }, pair, ['wrong-count minutes', 'wrong-count drag_ml']],
    ['one for one named', { baths: ['clean'], minutes: [5], drag_ml: [9] }, pair, []],
    ['two for one named', { baths: ['clean'], minutes: [5, 5] }, pair, ['wrong-count minutes']],
    ['three in a shop of three', { minutes: [5, 5, 5] }, three, []],
    ['two in a shop of three', { minutes: [5, 5] }, three, ['wrong-count minutes']],
    ['the pair beside a spare bath', { minutes: [5, 5] }, withBaths('spare', 'clean', 'dirty'), []],
    ['any number where no head is at hand', { minutes: [5], drag_ml: [1, 2, 3] }, null, []],
    [
      'one for two named where no head is at hand',
      { baths: ['a', 'b'], minutes: [5] },
      null,
      ['wrong-count minutes'],
    ],
  ])('%s', (_, keys, known, wanted) => {
    expect(told(wash({ area_cm2: 9, ...keys }), known)).toEqual(wanted);
  });

  it.each<[object, string, string]>([
    [{ minutes: [5] }, 'Cannot match minutes with 1 value to 2 baths (dirty, clean)', '[dirty]'],
    [{ minutes: [] }, 'Cannot match minutes with 0 values to 2 baths (dirty, clean)', '[dirty]'],
    [{ drag_ml: [5, 5, 5] }, 'Cannot match drag_ml with 3 values to 2 baths (dirty, clean)', '[dirty]'],
  ])('%j: %s', (keys, message, example) => {
    expect(words(wash({ area_cm2: 9, ...keys }))).toEqual([
      message,
      expect.stringMatching(`^Write one value for each bath.*baths: \\${example}$`),
    ]);
  });
});

it('minutes of a wash that names its baths are to be as many as those', () => {
  expect(words(wash({ area_cm2: 9, baths: ['clean'], minutes: [5, 5] }))).toEqual([
    'Cannot match minutes with 2 values to 1 bath (clean)',
    'Write one value for each bath that is named',
  ]);
});

it('when it was typed is not compared with a time that cannot be read', () => {
  const typed = { at: 'yesterday', logged: '2026-11-20T08:00:00-04:00' };
  expect(told({ ...wash({ area_cm2: 9 }), ...typed })).toEqual(['bad-time at']);
});

describe('a top-up', () => {
  it.each<[object, string[]]>([
    [{ solvent: 'ipa99', ml: 250 }, []],
    [{ solvent: 'ipa99', to: 'mark' }, []],
    [{ solvent: 'ipa99', from: 'stock', ml: 250 }, []],
    [{ from: 'clean', ml: 250 }, []],
    [{ from: 'clean', to: 'mark' }, []],
    [{ bath: 'clean', solvent: 'ipa99', ml: 250 }, []],
    [{ bath: 'clean', solvent: 'ipa99', from: 'stock', to: 'mark' }, []],
    [{ solvent: 'ipa99' }, ['not-one-of']],
    [{ solvent: 'ipa99', ml: 250, to: 'mark' }, ['not-together to key']],
    [{ ml: 250 }, ['missing-key']],
    [{ from: 'stock', ml: 250 }, ['missing-key']],
    [{}, ['not-one-of', 'missing-key']],
    [{ from: 'clean' }, ['not-one-of']],
    [{ bath: 'clean', from: 'clean', ml: 250 }, ['clean-from-clean from']],
    [{ bath: 'clean', from: 'clean', ml: 1, to: 'mark' }, ['not-together to key', 'clean-from-clean from']],
  ])('%j: %j', (keys, wanted) => {
    expect(told(topUp(keys))).toEqual(wanted);
  });

  it('is asked what was poured, and told that a bath cannot fill itself', () => {
    expect(words(topUp({ ml: 250 }))).toEqual([
      expect.stringMatching(/this top-up without "solvent"/),
      expect.stringMatching(/solvent: ipa99.*from: clean/),
    ]);
    expect(words(topUp({ bath: 'clean', from: 'clean', ml: 250 }))).toEqual([
      expect.stringMatching(/bath "clean" from itself/),
      expect.stringMatching(/solvent: ipa99.*"from"/),
    ]);
  });
});

describe('events that hold exactly one of several keys', () => {
  it.each<[string, object, string[]]>([
    ['drain', drain({ ml: 5 }), []],
    ['drain', drain({ to: 'mark' }), []],
    ['drain', drain({ all: true }), []],
    ['drain', drain({}), ['not-one-of']],
    ['drain', drain({ ml: 5, to: 'mark' }), ['not-together to key']],
    ['drain', drain({ to: 'mark', all: true }), ['not-together all key']],
    ['drain', drain({ ml: 5, to: 'mark', all: true }), ['not-together to key']],
    ['stock', stock({ received_ml: 5000 }), []],
    ['stock', stock({ counted_ml: 0 }), []],
    ['stock', stock({}), ['not-one-of']],
    ['stock', stock({ counted_ml: 0, received_ml: 5000 }), ['not-together counted_ml key']],
    ['reading', reading({ density_g_ml: 0.8 }), []],
    ['reading', reading({ brix: 31 }), []],
    ['reading', reading({ refractive_index: 1.38 }), []],
    ['reading', reading({ resin_wt_pct: 0 }), []],
    ['reading', reading({ level_ml: 4000 }), []],
    ['reading', reading({ weight_g: 3200 }), []],
    ['reading', reading({ residue: { sample_ml: 10, dry_g: 0.2 } }), []],
    ['reading', reading({ temp_c: 21 }), ['not-one-of']],
    ['reading', reading({ brix: 31, density_g_ml: 0.8 }), ['not-together brix key']],
    ['reading', reading({ level_ml: 4000, weight_g: 3200 }), ['not-together weight_g key']],
  ])('%s %j: %j', (_, event, wanted) => {
    expect(told(event)).toEqual(wanted);
  });

  it.each<[string, object, string, string]>([
    ['top-up', topUp({ solvent: 'ipa99' }), '"ml" and "to"', 'ml: 250 or to: mark'],
    ['drain', drain({}), '"ml", "to" and "all"', 'ml: 500, to: mark or all: true'],
    ['stock', stock({}), '"received_ml" and "counted_ml"', 'received_ml: 5000 or counted_ml: 12000'],
    [
      'reading',
      reading({}),
      '"density_g_ml", "sg", "brix", "refractive_index", "residue", "resin_wt_pct", "level_ml" and "weight_g"',
      'density_g_ml: 0.799',
    ],
  ])('a %s without any is told them all, with an example', (what, event, list, example) => {
    expect(words(event)).toEqual([
      `Cannot read this ${what}: none of ${list} is given`,
      `Add one of them, like ${example}`,
    ]);
  });

  it('of two, the second is at fault, and the choice is told', () => {
    expect(words(drain({ ml: 5, all: true }))).toEqual([
      'Cannot use "ml" and "all" together',
      'Keep one of "ml", "to" and "all"',
    ]);
    expect(words(stock({ received_ml: 1, counted_ml: 1 }))).toEqual([
      'Cannot use "received_ml" and "counted_ml" together',
      'Keep one of "received_ml" and "counted_ml"',
    ]);
  });
});

describe('a washed load', () => {
  const weighed = (wet_g: number, clean_g: number) => ({ what: 'weighed', wash: 'w1', wet_g, clean_g });
  it.each<[number, number, string[]]>([
    [251.3, 240, []],
    [240, 240, []],
    [240, 240.1, ['weighed-backwards clean_g']],
  ])('that weighed %d g wet weighs %d g clean: %j', (wet, clean, wanted) => {
    expect(told(weighed(wet, clean))).toEqual(wanted);
  });

  it('that grew heavier is told with both weights', () => {
    const [message, help] = words(weighed(240, 251.3));
    expect(message).toMatch(/clean_g: 251\.3,.*\(240 g\)/);
    expect(help).toMatch(/"wet_g" is before the wash and "clean_g" after/);
  });
});

it('an inspection need not name parts, but a list of parts names some', () => {
  const inspect = (keys: object) => ({ what: 'inspect', result: 'ok', ...keys });
  expect(told(inspect({}))).toEqual([]);
  expect(told(inspect({ parts: { model: 1 } }))).toEqual([]);
  expect(told(inspect({ parts: {} }))).toEqual(['empty parts']);
});

describe('the time of typing', () => {
  const BEFORE = ['logged-before-at logged'];
  it.each<[string, string[]]>([
    ['2026-11-03T07:40:00-04:00', []],
    ['2026-11-02T07:40:00-04:00', []],
    // Five minutes are forgiven: the clocks of two people differ.
    ['2026-11-02T07:35:00-04:00', []],
    ['2026-11-02T07:34:59-04:00', BEFORE],
    ['2026-11-02T11:35:00Z', []],
    ['2026-11-02T11:34:59Z', BEFORE],
    ['2026-11-01T07:40:00-04:00', BEFORE],
    ['yesterday', ['bad-time logged']],
    ['2026-11-02T07:40:00', ['no-offset logged']],
    ['2026-13-02T07:40:00-04:00', ['no-such-date logged']],
  ])('%s, for what happened on 2026-11-02 at 07:40-04:00: %j', (logged, wanted) => {
    expect(told({ what: 'rotate', logged })).toEqual(wanted);
  });

  it('before the event is told with both times', () => {
    const logged = '2026-11-01T07:40:00-04:00';
    const [message, help] = words({ what: 'rotate', logged });
    expect(message).toBe(`Cannot take logged: ${logged}, it comes before at: ${AT}`);
    expect(help).toMatch(/"logged" is when the entry was typed and "at" when it happened/);
    expect(words({ what: 'rotate', logged: 'soon' })[0]).toMatch(/^Cannot take logged: "soon"/);
  });

  it('is told first, before what the kind of event asks', () => {
    expect(told({ ...drain({}), logged: 'soon' })).toEqual(['bad-time logged', 'not-one-of']);
  });
});

describe('a line that is no event', () => {
  it.each([null, [], ['fill'], 'fill', 7, undefined])('%j is told to be a map', (value) => {
    const [one, ...more] = explainEvent(value, pair, () => undefined);
    expect(more).toEqual([]);
    expect(one).toMatchObject({ code: 'event-not-a-map', path: [] });
    expect(one!.message).toMatch(/as an event$/);
    expect(one!.help).toMatch(/\{id: "k3f9", at: .*, what: fill/);
    expect(checkEvent(value, pair)).toBeNull();
  });

  it.each<[object, string, RegExp, RegExp]>([
    [{}, 'missing-key', /without "what"$/, /one of fill, wash, top-up, .*, void, amend$/],
    [{ what: 'washed' }, 'unknown-event what', /what: "washed", /, /^Did you mean "wash"\?$/],
    [{ what: 'party' }, 'unknown-event what', /what: "party", /, /^Use one of fill, wash, .*, amend$/],
    [{ what: 7 }, 'unknown-event what', /what: 7, /, /^Use one of fill, wash, .*, amend$/],
    [{ what: null }, 'unknown-event what', /what: nothing, /, /^Use one of fill/],
    [{ what: 'constructor' }, 'unknown-event what', /what: "constructor", /, /^Use one of fill/],
  ])('%j: %s', (keys, wanted, message, help) => {
    expect(told(keys)).toEqual([wanted]);
    expect(words(keys)).toEqual([expect.stringMatching(message), expect.stringMatching(help)]);
  });

  it('by its time is told the time, and by its names the names, but those only with a head', () => {
    const fill = { what: 'fill', bath: 'third', solvent: 'ipa99', ml: 5 };
    expect(told({ ...fill, at: 'noon' })).toEqual(['bad-time at', 'unknown-bath bath']);
    expect(told(fill, null)).toEqual([]);
    expect(found({ ...fill, at: 'noon' }, null)[0]!.message).toMatch(/^Cannot take at: "noon"/);
  });
});

describe('the place in the file, here between guillemets', () => {
  it.each([
    'what: wash, parts: «{}»',
    'what: wash, parts: {mask: 2}, «area_cm2»: 5',
    'what: wash, area_cm2: 5, «carry_ml»: 1, carry_g: 2',
    'what: wash, area_cm2: 5, baths: [dirty, clean, «dirty» ]',
    'what: wash, area_cm2: 5, minutes: «[5]»',
    'what: wash, area_cm2: 5, drag_ml: «[5, 6, 7]», minutes: [5, 6]',
    'what: top-up, bath: clean, from: «clean», ml: 5',
    'what: drain, bath: dirty, «all»: true, ml: 5',
    'what: weighed, wash: "k", wet_g: 1, clean_g: «2»',
    'what: rotate, logged: «2026-11-03T07:54:59Z»',
    'what: amend, of: "k3f9", set: {«id»: "b"}, why: "x"',
    'what: amend, of: "k3f9", set: {ml: «null»}, why: "x"',
  ])('%s', async (marked) => {
    const line = `  - {id: "x", at: 2026-11-03T08:00:00Z, ${marked}}`;
    const [before, culprit] = line.split(/[«»]/) as [string, string];
    const excerpt = line.replaceAll(/[«»]/g, '');
    const { file } = await checkLedger(bytesOf(ledger(FILL, `${excerpt}\n`)), { clockMs: Date.parse(AT) });
    expect(file.problems).toMatchObject([
      { line: 11, excerpt, column: before.length + 1, length: culprit.length },
    ]);
  });
});
