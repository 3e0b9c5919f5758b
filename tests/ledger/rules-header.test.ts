import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../src/ledger/check.ts';
import { checkHeader, explainHeader } from '../../src/ledger/check-header.ts';
import type { Catalogue } from '../../src/ledger/names.ts';
import { bytesOf } from './sample.ts';

const catalogue: Catalogue = {
  solvents: { ipa91: { ipa_vol_pct: 91 } },
  resins: { standard: {}, splint: {} },
  parts: { model: { shape: 'solid', volume_ml: 20 } },
};
const TUB = { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 };
const HEAD = { format: 'bathbook/1', shop: {}, baths: { dirty: TUB, clean: TUB } };

function found(value: unknown, shipped?: Catalogue) {
  const findings = explainHeader(value, () => undefined, shipped);
  expect(checkHeader(value, shipped)).toBe(findings.length === 0);
  return findings;
}
/** Code and place of each finding; "key" where the key is meant, not its value. */
const told = (value: unknown, shipped?: Catalogue) =>
  found(value, shipped).map(({ code, path, atKey }) => [code, ...path, ...(atKey ? ['key'] : [])].join(' '));
const words = (value: unknown, shipped?: Catalogue) =>
  found(value, shipped).map(({ message, help }) => [message, help]);
const baths = (...names: string[]) => Object.fromEntries(names.map((name) => [name, TUB]));

describe('the first line', () => {
  it.each([
    ['bathbook/2', 'newer-format format'],
    ['bathbook/10', 'newer-format format'],
    ['bathbook/123', 'newer-format format'],
    ['bathbook/0', 'unknown-format format'],
    ['bathbook/01', 'unknown-format format'],
    ['bathbook/', 'unknown-format format'],
    ['bathbook/2x', 'unknown-format format'],
    ['bathbook/1.5', 'unknown-format format'],
    ['my bathbook/2', 'unknown-format format'],
    ['Bathbook/1', 'unknown-format format'],
    [2, 'unknown-format format'],
  ])('format: %s is told as %s, and nothing else is', (format, wanted) => {
    const head = { ...HEAD, format, colour: 'blue', baths: 5 };
    expect(told(head)).toEqual([wanted]);
    expect(words(head)[0]![0]).toContain(`Cannot read format: ${format}, `);
    expect(words(head)[0]![1]).toContain('format: bathbook/1');
  });

  it('of a newer format asks for a newer program, of an unknown one for the right word', () => {
    const [newer, unknown] = ['bathbook/2', 'ledger'].map((format) => words({ ...HEAD, format })[0]!);
    expect(newer).toEqual([
      expect.stringMatching(/newer version.*not touched/),
      expect.stringMatching(/^Update/),
    ]);
    expect(unknown).toEqual([
      expect.stringMatching(/allowed is bathbook\/1$/),
      expect.stringMatching(/^If the file/),
    ]);
  });

  it('that is missing is told once, with all else that is wrong', () => {
    const { format: _, ...rest } = HEAD;
    expect(told(rest)).toEqual(['missing-format']);
    expect(told({ ...rest, colour: 'blue', baths: { dirty: { ...TUB, mark_ml: 0 } } })).toEqual([
      'missing-format',
      'out-of-range baths dirty mark_ml',
      'unknown-key colour key',
    ]);
    const [[message, help]] = words(rest) as [[string, string]];
    expect(message).toMatch(/without "format"$/);
    expect(help).toMatch(/the line format: bathbook\/1$/);
  });

  it.each([null, undefined, [], ['format'], 'format', 7])('cannot be found in a head that is %j', (value) => {
    expect(found(value)).toMatchObject([
      {
        code: 'missing-format',
        path: [],
        message: expect.stringMatching(/holds no keys$/),
        help: expect.stringMatching(/format: bathbook\/1, .*bathbook setup$/),
      },
    ]);
  });
});

it('a head in order is told nothing, with the catalogue or without', () => {
  for (const shipped of [undefined, catalogue]) expect(told(HEAD, shipped)).toEqual([]);
});

it('a head names a bath at least', () => {
  const none = { ...HEAD, baths: {} };
  expect(told(none)).toEqual(['empty baths']);
  expect(words(none)).toEqual([
    [
      'Cannot take baths: {}, it names no bath',
      expect.stringMatching(/dirty: \{mark_ml: 4000, .*freeboard_mm: 50\}/),
    ],
  ]);
});

describe('the brim of a bath', () => {
  it.each<[object, string[]]>([
    [{ tub_ml: 4000.1 }, []],
    [{ tub_ml: 4000 }, []],
    [{ tub_ml: 3999.9 }, ['brim-below-mark baths spare tub_ml']],
  ])('of %j at a mark of 4000 mL: %j', (keys, wanted) => {
    expect(told({ ...HEAD, baths: { dirty: TUB, spare: { ...TUB, ...keys } } })).toEqual(wanted);
  });

  it('below the mark is told with both, for each bath', () => {
    const low = {
      ...HEAD,
      baths: { dirty: { ...TUB, tub_ml: 3500 }, clean: { ...TUB, mark_ml: 9000, tub_ml: 1 } },
    };
    const help = expect.stringMatching(/"tub_ml" is .* brim, "mark_ml" .* mark/);
    expect(words(low)).toEqual([
      ['Cannot take tub_ml: 3500, the brim of the bath "dirty" would be below its mark of 4000 mL', help],
      ['Cannot take tub_ml: 1, the brim of the bath "clean" would be below its mark of 9000 mL', help],
    ]);
  });
});

describe('the strength of a solvent', () => {
  const NONE = 'not-one-of solvents own';
  const TWO = 'not-together solvents own ipa_vol_pct key';
  it.each<[string, object, Catalogue | undefined, string[]]>([
    ['own', { ipa_wt_pct: 90 }, catalogue, []],
    ['own', { ipa_vol_pct: 90 }, catalogue, []],
    ['own', { price_per_l: 6 }, catalogue, [NONE]],
    ['own', {}, catalogue, [NONE]],
    ['own', { ipa_wt_pct: 90, ipa_vol_pct: 95 }, catalogue, [TWO]],
    ['ipa91', { price_per_l: 6 }, catalogue, []],
    ['ipa91', { ipa_wt_pct: 87 }, catalogue, []],
    ['ipa91', { ipa_wt_pct: 87, ipa_vol_pct: 91 }, catalogue, [TWO.replace('own', 'ipa91')]],
    // Without the catalogue nobody can say that it has no such solvent.
    ['own', {}, undefined, []],
    ['own', { ipa_wt_pct: 90 }, undefined, []],
    ['own', { ipa_wt_pct: 90, ipa_vol_pct: 95 }, undefined, [TWO]],
  ])('%s: %j', (name, solvent, shipped, wanted) => {
    expect(told({ ...HEAD, solvents: { [name]: solvent } }, shipped)).toEqual(wanted);
  });

  it('is told by the name of the solvent', () => {
    const solvents = { own: {}, ipa99: { ipa_wt_pct: 99.5 }, bottle: { ipa_wt_pct: 87, ipa_vol_pct: 91 } };
    expect(words({ ...HEAD, solvents }, catalogue)).toEqual([
      [
        expect.stringMatching(
          /the solvent "own" without its strength: neither "ipa_wt_pct" nor "ipa_vol_pct"/,
        ),
        expect.stringMatching(/ipa_vol_pct: 91$/),
      ],
      [
        'Cannot use "ipa_wt_pct" and "ipa_vol_pct" together for the solvent "bottle"',
        expect.stringMatching(/label/),
      ],
    ]);
  });
});

describe('a part', () => {
  const WALL = 'not-together parts own wall_mm key';
  it.each<[string, object, string[]]>([
    ['own', { shape: 'solid', volume_ml: 30 }, []],
    ['own', { shape: 'solid', area_cm2: 90 }, []],
    ['own', { shape: 'sheet', volume_ml: 30, area_cm2: 90 }, []],
    ['own', { shape: 'hollow', volume_ml: 30, wall_mm: 2 }, []],
    ['own', { shape: 'hollow', volume_ml: 30 }, []],
    ['own', { shape: 'solid' }, ['not-one-of parts own']],
    ['own', { shape: 'hollow', wall_mm: 2 }, ['not-one-of parts own']],
    ['own', { shape: 'solid', volume_ml: 30, wall_mm: 2 }, [WALL]],
    ['own', { shape: 'mask', wall_mm: 2 }, [WALL]],
    ['model', { shape: 'mask' }, []],
    ['model', { shape: 'mask', wall_mm: 2 }, ['not-together parts model wall_mm key']],
  ])('%s: %j', (name, part, wanted) => {
    expect(told({ ...HEAD, parts: { [name]: part } }, catalogue)).toEqual(wanted);
  });

  it('is told by its name and shape', () => {
    const parts = { own: { shape: 'solid' }, tray: { shape: 'sheet', volume_ml: 9, wall_mm: 2 } };
    expect(words({ ...HEAD, parts }, catalogue)).toEqual([
      [
        expect.stringMatching(/the part "own" without its size: neither "volume_ml" nor "area_cm2"/),
        expect.stringMatching(/volume_ml: 32$/),
      ],
      [
        'Cannot use "wall_mm" for the part "tray" of shape sheet',
        expect.stringMatching(/shape: hollow.*"wall_mm"/),
      ],
    ]);
  });

  it('with a size is in order where the catalogue is not at hand', () => {
    expect(told({ ...HEAD, parts: { own: { shape: 'solid', volume_ml: 30 } } })).toEqual([]);
    expect(told({ ...HEAD, parts: { own: { shape: 'solid', area_cm2: 90 } } })).toEqual([]);
  });
});

describe('the usual resin', () => {
  const head = (resin: string) => ({ ...HEAD, shop: { defaults: { resin } }, resins: { grey: {} } });
  it.each<[string, Catalogue | undefined, string[]]>([
    ['grey', catalogue, []],
    ['standard', catalogue, []],
    ['clear', catalogue, ['unknown-resin shop defaults resin']],
    ['clear', undefined, []],
  ])('%s', (resin, shipped, wanted) => {
    expect(told(head(resin), shipped)).toEqual(wanted);
  });

  it.each([
    ['gray', /^Did you mean "grey"\?$/],
    ['standart', /^Did you mean "standard"\?$/],
    ['clear', /^Add it under "resins:", like clear: \{density_g_ml: 1\.11, viscosity_mpa_s: 400\}$/],
  ])('%s that nobody knows is answered with the next best', (resin, help) => {
    const message = `Cannot find the resin "${resin}" in the head or the catalogue`;
    expect(words(head(resin), catalogue)).toEqual([[message, expect.stringMatching(help)]]);
  });

  it('is looked for in a head without resins as well', () => {
    const { resins: _, ...bare } = head('grey');
    expect(told(bare, catalogue)).toEqual(['unknown-resin shop defaults resin']);
    expect(told({ ...bare, shop: { defaults: {} } }, catalogue)).toEqual([]);
    expect(told({ ...bare, shop: {} }, catalogue)).toEqual([]);
  });
});

describe('the usual minutes', () => {
  const WRONG = ['wrong-count shop defaults minutes'];
  const head = (minutes: number[], names: string[]) => ({
    ...HEAD,
    shop: { defaults: { minutes } },
    baths: baths(...names),
  });
  it.each<[number[], string[], string[]]>([
    [[5, 5], ['dirty', 'clean'], []],
    [[5], ['dirty', 'clean'], WRONG],
    [[], ['dirty', 'clean'], WRONG],
    [[5, 5, 5], ['dirty', 'clean'], WRONG],
    // A spare bath is not on the usual way.
    [[5, 5, 5], ['dirty', 'clean', 'spare'], WRONG],
    [[5, 5, 5], ['first', 'second', 'third'], []],
    [[5, 5, 5, 5], ['first', 'second', 'third'], WRONG],
    // Two are for dirty and clean, whatever baths there are.
    [[5, 5], ['first', 'second', 'third'], []],
    [[5, 5], ['single'], []],
    [[5], ['single'], []],
    [[5, 5, 5], ['single'], WRONG],
  ])('%j for the baths %j: %j', (minutes, names, wanted) => {
    expect(told(head(minutes, names))).toEqual(wanted);
  });

  it('that do not match are told with the baths of the usual way', () => {
    const help = expect.stringMatching(/one value for each bath.*minutes: \[5, 5\]/);
    expect(words(head([5, 5, 5], ['spare', 'clean', 'dirty']))).toEqual([
      ['Cannot match minutes with 3 values to the baths dirty, clean', help],
    ]);
  });

  it('and resin are both told', () => {
    const both = { ...HEAD, shop: { defaults: { resin: 'clear', minutes: [1, 2, 3] } } };
    expect(told(both, catalogue)).toEqual(['unknown-resin shop defaults resin', ...WRONG]);
  });
});

describe('the limits', () => {
  it.each<[number[], boolean]>([
    [[8, 10, 20], true],
    [[8, 8, 8], true],
    [[0, 0, 1], true],
    [[10, 8, 20], false],
    [[8, 20, 10], false],
    [[20, 10, 8], false],
    [[8, 7.9, 20], false],
  ])('%j may stand: %j', (limits, right) => {
    for (const key of ['dirty_resin', 'clean_resin', 'dirty_water', 'clean_water']) {
      expect(told({ ...HEAD, limits: { [key]: limits } })).toEqual(
        right ? [] : [`falling-limits limits ${key}`],
      );
    }
  });

  it('that fall are told with their figures, each by itself', () => {
    const limits = {
      dirty_resin: [10, 8, 20],
      clean_resin: [1, 2, 3],
      clean_water: [1, 3, 2],
      dirty_age_days: 9,
    };
    const falls = (key: string, list: string) => [
      `Cannot take ${key}: [${list}], the limits soon, change and never must not fall`,
      expect.stringMatching(/in order, like \[8, 10, 20\]/),
    ];
    expect(words({ ...HEAD, limits })).toEqual([
      falls('dirty_resin', '10, 8, 20'),
      falls('clean_water', '1, 3, 2'),
    ]);
  });
});

it('what is wrong with a head is told in the order of its parts', () => {
  const wrong = {
    ...HEAD,
    shop: { defaults: { minutes: [1] } },
    limits: { clean_resin: [3, 2, 1] },
    parts: { own: { shape: 'solid' } },
    solvents: { own: {} },
    baths: { ...HEAD.baths, dirty: { ...TUB, tub_ml: 1 } },
  };
  expect(told(wrong, catalogue).map((one) => one.split(' ')[0])).toEqual([
    'brim-below-mark',
    'not-one-of',
    'not-one-of',
    'wrong-count',
    'falling-limits',
  ]);
});

describe('the place in the file, here between guillemets', () => {
  const lines = [
    'format: bathbook/1',
    'shop:',
    '  name: Cobble Hill Bench',
    'baths:',
    '  dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}',
    '  clean: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}',
    'events:',
  ];
  it.each([
    [1, 'format: «bathbook/7»'],
    [1, 'format: «ledger»'],
    [3, '  defaults: {minutes: «[5]»}'],
    [3, '  defaults: {minutes: [5, 5], resin: «clear»}'],
    [4, 'baths: «{}»'],
    [5, '  dirty: {mark_ml: 4000, tub_ml: «3999», length_mm: 260, width_mm: 180, freeboard_mm: 50}'],
    [6, 'limits: {dirty_resin: «[3, 2, 1]»}'],
    [6, 'solvents: {own: {ipa_wt_pct: 90, «ipa_vol_pct»: 90}}'],
    [6, 'solvents: {own: «{price_per_l: 5}»}'],
    [6, 'parts: {own: {«wall_mm»: 2, shape: solid}}'],
    [6, 'parts: {own: «{shape: solid}»}'],
  ])('line %i: %s', async (line, marked) => {
    const [before, culprit] = marked.split(/[«»]/) as [string, string];
    const excerpt = marked.replaceAll(/[«»]/g, '');
    const text = lines
      .map((one, index) => (index === line - 1 ? excerpt : one))
      .filter((one) => marked !== 'baths: «{}»' || (!one.startsWith('  dirty') && !one.startsWith('  clean')))
      .join('\n');
    const { file } = await checkLedger(bytesOf(`${text}\n`), { clockMs: 0, catalogue });
    expect(file.problems).toMatchObject([
      { line, excerpt, column: before.length + 1, length: culprit.length },
    ]);
  });
});

describe('what ought to be a map and is none', () => {
  it.each([
    [{ shop: 'x' }, 'shop: "x"', 'a map, like {name: "My bench"}'],
    [{ shop: undefined }, undefined, 'Add shop: a map, like {name: "My bench"}'],
    [{ shop: { defaults: [] } }, 'defaults: a list', 'a map of usual values, like {minutes: [5, 5]}'],
    [{ shop: { currency: 5 } }, undefined, 'Write it in quotes: currency: "5"'],
    [{ shop: { currency: [] } }, 'currency: a list', 'three capital letters, like CAD'],
    [{ baths: { dirty: 4000, clean: TUB } }, 'dirty: 4000', 'a map, like {mark_ml: 4000, …}'],
    [{ solvents: 'ipa99' }, 'solvents: "ipa99"', 'a map of solvents, like ipa99: {ipa_wt_pct: 99.5}'],
    [{ solvents: { ipa99: 99.5 } }, 'ipa99: 99.5', 'a map, like {ipa_wt_pct: 99.5}'],
    [
      { resins: [] },
      'resins: a list',
      'a map of resins, like grey: {density_g_ml: 1.11, viscosity_mpa_s: 400}',
    ],
    [{ resins: { grey: true } }, 'grey: true', 'a map, like {density_g_ml: 1.11, viscosity_mpa_s: 400}'],
    [{ parts: 3 }, 'parts: 3', 'a map of parts, like bar: {shape: solid, volume_ml: 20}'],
    [{ parts: { bar: 3 } }, 'bar: 3', 'a map, like {shape: solid, volume_ml: 20}'],
    [{ limits: [8, 10, 20] }, 'limits: a list', 'a map, like {clean_resin: [1.5, 2, 5]}'],
    [{ factors: 1.2 }, 'factors: 1.2', 'a map, like {carry: 1.2}'],
  ] as [object, string | undefined, string][])(
    '%j is told with what it should be',
    (keys, shown, allowed) => {
      const [[message, help]] = words({ ...HEAD, ...keys }) as [[string, string]];
      if (shown === undefined) expect(help).toBe(allowed);
      else
        expect([message, help]).toEqual([`Cannot take ${shown}, allowed is ${allowed}`, `Write ${allowed}`]);
    },
  );

  it('of the format is told as what it is', () => {
    const of = (format: unknown) => told({ ...HEAD, format }).concat(words({ ...HEAD, format })[0]![0]!);
    expect(of(['bathbook/1'])).toEqual([
      'unknown-format format',
      'Cannot read format: a list, allowed is bathbook/1',
    ]);
    expect(of(['bathbook/2'])).toEqual([
      'unknown-format format',
      'Cannot read format: a list, allowed is bathbook/1',
    ]);
    expect(of({})).toEqual(['unknown-format format', 'Cannot read format: a map, allowed is bathbook/1']);
    expect(of('x'.repeat(5000))[1]!.length).toBeLessThan(120);
  });
});

it('usual minutes are not matched to baths that are none', () => {
  expect(told({ ...HEAD, baths: {}, shop: { defaults: { minutes: [5] } } })).toEqual(['empty baths']);
  expect(words({ ...HEAD, shop: { defaults: { minutes: [5] } }, baths: baths('a', 'b', 'c') })[0]![0]).toBe(
    'Cannot match minutes with 1 value to the baths a, b, c',
  );
});
