import { describe, expect, it } from 'vitest';
import { gather } from '../../src/ledger/check.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { settle } from '../../src/ledger/settle.ts';
import { strictProblems } from '../../src/ledger/strict.ts';
import { bytesOf } from './sample.ts';

const clockMs = Date.parse('2027-01-01T00:00:00Z');
const CATALOGUE = {
  solvents: { ipa91: {} },
  resins: { standard: {}, model: {} },
  parts: { mask: {}, crown: {} },
};
const TUB = '{mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}';

interface Shop {
  /** A line under `shop:`. */
  shop?: string;
  baths?: string[];
  /** Lines of the head after the baths. */
  more?: string[];
}

/** A ledger of these events, each "id what …" at eight o'clock of the day after the one before. */
function ledgerOf(events: readonly string[], { shop, baths = ['dirty', 'clean'], more = [] }: Shop = {}) {
  const lines = events.map((event, day) => {
    const at = /\bat: /.test(event) ? '' : `at: 2026-11-${String(day + 2).padStart(2, '0')}T08:00:00Z, `;
    return `  - {id: "e${day}", ${at}what: ${event}}`;
  });
  return [
    'format: bathbook/1',
    'shop:',
    '  name: Cobble Hill Bench',
    ...(shop === undefined ? [] : [`  ${shop}`]),
    'baths:',
    ...baths.map((name) => `  ${name}: ${TUB}`),
    ...more,
    'events:',
    ...lines,
    '',
  ].join('\n');
}

const BY = 'by: "NB"';
/** With initials, so that only what a test is about is told. */
const signed = (...events: string[]) => events.map((event) => `${event}, ${BY}`);

async function problemsOf(events: readonly string[], shop?: Shop) {
  const file = await readLedger(bytesOf(ledgerOf(events, shop)), CATALOGUE);
  const options = { clockMs, catalogue: CATALOGUE };
  // Only who asks for it is told.
  expect((await gather(file, options)).problems).toEqual([]);
  return (await gather(file, { ...options, strict: true })).problems;
}

/** "code id" of each, or "code" where it is about no line. */
async function told(events: readonly string[], shop?: Shop) {
  const found = await problemsOf(events, shop);
  return found.map(({ code, excerpt }) =>
    [code, ...(/id: "(\w+)"/.exec(excerpt ?? '')?.slice(1) ?? [])].join(' '),
  );
}

const words = async (events: readonly string[], shop?: Shop) =>
  (await problemsOf(events, shop)).map(({ message, help, severity }) => [message, help, severity]);

const FILL = 'fill, bath: dirty, solvent: ipa91, ml: 4000';
const WASH = 'wash, parts: {mask: 2}';

describe('the order of the file', () => {
  const at = (hour: string, more = '') => `${WASH}, at: 2026-11-02T${hour}:00Z${more}, ${BY}`;
  it.each<[string, string[], string[]]>([
    ['by time', [at('08:00'), at('08:01')], []],
    ['at the same time', [at('08:00'), at('08:00')], []],
    ['a minute back', [at('08:01'), at('08:00')], ['out-of-order e1']],
    [
      'back of the latest, not of the last',
      [at('09:00'), at('08:00'), at('08:30')],
      ['out-of-order e1', 'out-of-order e2'],
    ],
    ['back, and typed later', [at('09:00'), at('08:00', ', logged: 2026-11-02T09:05:00Z')], []],
    ['ahead of its line is nothing to the ones before', [at('08:00'), at('10:00'), at('11:00')], []],
  ])('%s', async (_, events, wanted) => {
    expect(await told(events)).toEqual(wanted);
  });

  it('is told by the event that stands too low, at its time', async () => {
    const [one] = await problemsOf([at('09:00'), at('08:00')]);
    expect(one).toMatchObject({
      severity: 'error',
      line: 9,
      message: expect.stringMatching(/^The wash "e1" happened before an event above it/),
      help: expect.stringMatching(/logged:/),
    });
    const { excerpt = '', column = 0, length = 0 } = one!;
    expect(excerpt.slice(column - 1, column - 1 + length)).toBe('2026-11-02T08:00:00Z');
  });

  it('is asked of corrections too', async () => {
    const events = [at('09:00'), `void, of: "e0", why: "twice", at: 2026-11-02T08:00:00Z, ${BY}`];
    expect(await told(events)).toEqual(['out-of-order e1']);
  });
});

describe('the time of typing, against the clock', () => {
  const logged = (time: string) => signed(`${WASH}, logged: ${time}`);
  it.each<[string, string[]]>([
    ['2026-11-02T09:00:00Z', []],
    ['2027-01-01T00:00:00Z', []],
    // Five minutes are forgiven: two machines may disagree.
    ['2027-01-01T00:05:00Z', []],
    ['2027-01-01T00:05:01Z', ['logged-in-future e0']],
    ['2026-12-31T20:05:00-04:00', []],
    ['2026-12-31T20:05:01-04:00', ['logged-in-future e0']],
  ])('%s', async (time, wanted) => {
    expect(await told(logged(time))).toEqual(wanted);
  });

  it('is told as it stands there', async () => {
    expect(await words(logged('2028-01-01T00:00:00Z'))).toEqual([
      [
        'The wash "e0" was logged at 2028-01-01T00:00:00Z, which is still to come',
        expect.stringMatching(/"logged"/),
        'error',
      ],
    ]);
  });
});

it('every line says who logged it, corrections and later ones as well', async () => {
  const events = [FILL, `${WASH}, ${BY}`, 'void, of: "e1", why: "twice"', 'rotate, at: 2027-06-01T08:00:00Z'];
  expect(await told(events)).toEqual(['no-initials e0', 'no-initials e2', 'no-initials e3']);
  expect(await words([FILL])).toEqual([
    ['The fill "e0" does not say who logged it', expect.stringMatching(/by: "NB"/), 'error'],
  ]);
});

describe('the soak of a wash', () => {
  const LONG = ['long-soak e0'];
  const usual = (minutes: string): Shop => ({ shop: `defaults: {minutes: ${minutes}}` });
  it.each<[string, string, Shop, string[]]>([
    ['as long as is usual', WASH, {}, []],
    ['of a quarter of an hour', `${WASH}, minutes: [10, 5]`, {}, []],
    ['of a little more', `${WASH}, minutes: [10, 5.5]`, {}, LONG],
    ['in one bath alone', `${WASH}, baths: [clean], minutes: [15.5]`, {}, LONG],
    ['as long as the shop says', WASH, usual('[10, 5]'), []],
    ['longer, as the shop says', WASH, usual('[10, 6]'), LONG],
    ['that says less than the shop', `${WASH}, minutes: [5, 5]`, usual('[10, 6]'), []],
    ['in the dirty bath alone', `${WASH}, baths: [dirty]`, usual('[15, 16]'), []],
    ['in the dirty bath alone, too long', `${WASH}, baths: [dirty]`, usual('[16, 2]'), LONG],
    ['in the clean bath alone', `${WASH}, baths: [clean]`, usual('[16, 15]'), []],
    ['in the clean bath alone, too long', `${WASH}, baths: [clean]`, usual('[2, 16]'), LONG],
    ['in both, the other way round', `${WASH}, baths: [clean, dirty]`, usual('[2, 13]'), []],
    ['in both, the first the shorter', WASH, usual('[2, 13]'), []],
    ['in both, the first the longer', WASH, usual('[13, 2]'), []],
    [
      'in a clean bath that is the only one',
      `${WASH}, baths: [clean]`,
      { ...usual('[16, 2]'), baths: ['clean'] },
      [],
    ],
    ['in the only one, too long', `${WASH}, baths: [clean]`, { ...usual('[2, 16]'), baths: ['clean'] }, LONG],
    [
      'in a clean bath that is the only one, by its place',
      WASH,
      { ...usual('[16, 2]'), baths: ['clean'] },
      LONG,
    ],
    ['in that one, not too long', WASH, { ...usual('[2, 16]'), baths: ['clean'] }, []],
    // Of binary numbers the sum is 15.000000000000002.
    ['of a quarter of an hour in three', `${WASH}, minutes: [0.3, 8.3, 6.4]`, { baths: ['a', 'b', 'c'] }, []],
    ['that is none, in a shop that soaks long', FILL, usual('[10, 6]'), []],
    ['in three, each by its place', WASH, { ...usual('[1, 2, 12]'), baths: ['a', 'b', 'c'] }, []],
    ['in three, together too long', WASH, { ...usual('[1, 2, 12.5]'), baths: ['a', 'b', 'c'] }, LONG],
    ['in the third of three', `${WASH}, baths: [c]`, { ...usual('[9, 9, 1]'), baths: ['a', 'b', 'c'] }, []],
    [
      'in one called clean of three',
      `${WASH}, baths: [clean]`,
      { ...usual('[1, 1, 16]'), baths: ['a', 'b', 'clean'] },
      LONG,
    ],
    // The last of the usual minutes holds for the baths beyond them.
    ['in three by minutes for two', WASH, { ...usual('[3, 6]'), baths: ['a', 'b', 'c'] }, []],
    ['in three by minutes for two, too long', WASH, { ...usual('[3, 6.5]'), baths: ['a', 'b', 'c'] }, LONG],
    [
      'in a spare bath',
      `${WASH}, baths: [spare]`,
      { ...usual('[2, 16]'), baths: ['dirty', 'clean', 'spare'] },
      LONG,
    ],
    [
      'in a spare bath, short',
      `${WASH}, baths: [spare]`,
      { ...usual('[16, 2]'), baths: ['dirty', 'clean', 'spare'] },
      [],
    ],
  ])('%s', async (_, event, shop, wanted) => {
    expect(await told(signed(event), shop)).toEqual(wanted);
  });

  it('is told with its sum, at its minutes', async () => {
    const [one] = await problemsOf(signed(`${WASH}, minutes: [12, 8.5]`));
    expect(one!.message).toBe('The wash "e0" soaked 20.5 minutes in all, more than 15');
    expect(one!.help).toMatch(/^Check the minutes; .*cracks/);
    const { excerpt = '', column = 0, length = 0 } = one!;
    expect(excerpt.slice(column - 1, column - 1 + length)).toBe('[12, 8.5]');
  });
});

describe('a delivery', () => {
  const more = { more: ['solvents:\n  own: {ipa_wt_pct: 90}'] };
  it.each<[string, string[]]>([
    ['received_ml: 5000, lot: "7"', []],
    ['received_ml: 5000', ['no-lot e0']],
    ['counted_ml: 5000', []],
  ])('of %s: %j', async (keys, wanted) => {
    expect(await told(signed(`stock, solvent: own, ${keys}`), more)).toEqual(wanted);
  });

  it('without a lot is told by its solvent', async () => {
    expect(await words(signed('stock, solvent: own, received_ml: 5000'), more)).toEqual([
      ['The delivery "e0" of own has no lot number', expect.stringMatching(/lot: "0811"/), 'error'],
    ]);
  });
});

describe('liquid that leaves a bath', () => {
  it.each(['drain, bath: dirty, all: true', 'rotate', 'refill, bath: dirty'])(
    'by a %s says where to',
    async (event) => {
      expect(await told(signed(event))).toEqual(['no-container e0']);
      expect(await told(signed(`${event}, into: "drum 1"`))).toEqual([]);
      expect(await words(signed(event))).toEqual([
        [
          `The ${event.split(',')[0]} "e0" does not say which waste container took the liquid`,
          expect.stringMatching(/into: "drum 1"/),
          'error',
        ],
      ]);
    },
  );

  it('is not asked for where none leaves', async () => {
    const events = [
      FILL,
      WASH,
      'top-up, bath: dirty, solvent: ipa91, ml: 5',
      'waste, container: "a", action: emptied',
    ];
    expect(await told(signed(...events))).toEqual([]);
  });
});

describe('the temperature of a reading', () => {
  const COUNTS = ['density_g_ml: 0.8', 'sg: 0.8, sg_ref: "20/20"', 'brix: 31', 'refractive_index: 1.38'];
  const warm: Shop = { shop: 'room_c: 25' };
  it.each(COUNTS)('counts for %s', async (keys) => {
    const event = `reading, bath: dirty, ${keys}`;
    expect(await told(signed(event))).toEqual(['no-temperature e0']);
    expect(await told(signed(`${event}, temp_c: 21`))).toEqual([]);
    expect(await told(signed(event), warm)).toEqual([]);
    expect(await told(signed(`${event}, temp_c: 21`), warm)).toEqual([]);
    const [[message, help]] = (await words(signed(event))) as [[string, string]];
    expect(message).toMatch(
      new RegExp(`^The reading "e0" of ${keys.split(':')[0]} gives no temperature.*: 22 °C is assumed$`),
    );
    expect(help).toMatch(/temp_c: .*room_c:/);
  });

  it.each(['level_ml: 4000', 'weight_g: 3200', 'resin_wt_pct: 3', 'residue: {sample_ml: 10, dry_g: 0.2}'])(
    'does not for %s',
    async (keys) => {
      expect(await told(signed(`reading, bath: dirty, ${keys}`))).toEqual([]);
    },
  );

  it('is not asked of other events', async () => {
    expect(await told(signed(FILL, WASH))).toEqual([]);
  });
});

describe('the cases of a wash', () => {
  const body: Shop = { shop: 'parts_use: body-contact' };
  it.each<[string, Shop, string[]]>([
    [WASH, body, ['no-cases e0']],
    [`${WASH}, cases: ["26-0117"]`, body, []],
    [`${WASH}, cases: []`, body, ['no-cases e0']],
    [WASH, { shop: 'parts_use: models' }, []],
    [WASH, {}, []],
    [FILL, body, []],
  ])('%s in a shop with %j: %j', async (event, shop, wanted) => {
    expect(await told(signed(event), shop)).toEqual(wanted);
  });

  it('are asked for by an example', async () => {
    expect(await words(signed(WASH), body)).toEqual([
      [
        expect.stringMatching(/^The wash "e0" names no case, .*body contact$/),
        expect.stringMatching(/\["26-0117"\]/),
        'error',
      ],
    ]);
  });
});

describe('reclaimed solvent and the clean bath', () => {
  const more = { more: ['solvents:\n  again: {ipa_wt_pct: 96}'] };
  const RECLAIM = 'reclaim, container: "drum 1", ml: 2500, method: settled, solvent: again';
  const to = 'into: "drum 1"';
  const dirty = 'top-up, bath: dirty, solvent: again, ml: 100';
  const POURS = 'reclaimed-in-clean e';
  it.each<[string, string[], string[]]>([
    ['filled', [RECLAIM, 'fill, bath: clean, solvent: again, ml: 9'], [`${POURS}1`]],
    ['topped up', [RECLAIM, 'top-up, bath: clean, solvent: again, ml: 9'], [`${POURS}1`]],
    ['refilled', [RECLAIM, `refill, bath: clean, solvent: again, ${to}`], [`${POURS}1`]],
    ['filled by a rotation', [RECLAIM, `rotate, solvent: again, ${to}`], [`${POURS}1`]],
    ['filled before any was reclaimed', ['fill, bath: clean, solvent: again, ml: 9', RECLAIM], []],
    ['filled with fresh solvent', [RECLAIM, 'fill, bath: clean, solvent: ipa91, ml: 9', dirty], []],
    ['left alone, the dirty one filled', [RECLAIM, 'fill, bath: dirty, solvent: again, ml: 9'], []],
    ['left alone, the dirty one topped up', [RECLAIM, dirty], []],
    ['left alone, the dirty one refilled', [RECLAIM, `refill, bath: dirty, solvent: again, ${to}`], []],
    ['refilled with what was poured last', [RECLAIM, dirty, `refill, bath: clean, ${to}`], [`${POURS}2`]],
    ['rotated with what was poured last', [RECLAIM, dirty, `rotate, ${to}`], [`${POURS}2`]],
    [
      'refilled and refilled',
      [RECLAIM, dirty, `refill, bath: clean, ${to}`, `refill, bath: clean, ${to}`],
      [`${POURS}2`, `${POURS}3`],
    ],
    [
      'refilled after fresh was poured elsewhere',
      [RECLAIM, dirty, FILL.replace('fill', 'top-up').replace('4000', '9'), `refill, bath: clean, ${to}`],
      [],
    ],
    ['rotated with nothing ever poured', [RECLAIM, dirty.replace('again', 'ipa91'), `rotate, ${to}`], []],
    ['drained', [RECLAIM, dirty, `drain, bath: clean, all: true, ${to}`], []],
    [
      'emptied into the dirty one, which says nothing of the stock',
      [RECLAIM, dirty, 'top-up, bath: dirty, from: clean, ml: 5', `rotate, ${to}`],
      [`${POURS}3`],
    ],
  ])('%s', async (_, events, wanted) => {
    expect(await told(signed(...events), more)).toEqual(wanted);
  });

  it('is a note that says how it is known and what to do', async () => {
    const events = signed(RECLAIM, 'fill, bath: clean, solvent: again, ml: 9', `rotate, ${to}`);
    const help = (id: string) =>
      expect.stringMatching(
        `bathbook amend ${id} solvent=NAME --why "it was fresh"; if not, refill the clean bath`,
      );
    expect(await words(events, more)).toEqual([
      ['The fill "e1" pours reclaimed "again" into the clean bath', help('e1'), 'warning'],
      [
        'The rotate "e2" pours reclaimed "again" into the clean bath: it names none, and that was poured last',
        help('e2'),
        'warning',
      ],
    ]);
  });
});

describe('a weighing', () => {
  const WEIGHED = 'weighed, wash: "e0", wet_g: 251, clean_g: 240';
  const VOID = (id: string) => `void, of: "${id}", why: "twice"`;
  it.each<[string, string[], string[]]>([
    ['of a wash that counts', [WASH, WEIGHED], []],
    ['of one that was voided', [WASH, WEIGHED, VOID('e0')], ['weighed-voided e1']],
    ['that was voided with it', [WASH, WEIGHED, VOID('e0'), VOID('e1')], []],
    ['beside another that was voided', [WASH, WEIGHED, WASH, VOID('e2')], []],
    ['that was only looked at', [WASH, 'inspect, wash: "e0", result: ok', VOID('e0')], []],
  ])('%s', async (_, events, wanted) => {
    expect(await told(signed(...events))).toEqual(wanted);
  });

  it('is told with its wash and what voided it, and both ways out', async () => {
    expect(await words(signed(WASH, WEIGHED, VOID('e0')))).toEqual([
      [
        'The weighing "e1" counts no longer, its wash "e0" was voided by "e2"',
        expect.stringMatching(/bathbook amend e1 wash=ID .*bathbook void e1 --why/),
        'warning',
      ],
    ]);
  });
});

describe('a name of the head', () => {
  const head: Shop = {
    more: [
      'solvents:\n  own: {ipa_wt_pct: 90}',
      'resins:\n  grey: {density_g_ml: 1.1}',
      'parts:\n  base: {shape: solid, volume_ml: 9}',
    ],
  };
  const S = 'solvent "own"';
  const R = 'resin "grey"';
  const P = 'part "base"';
  it.each<[string, string[], string[]]>([
    ['used by nothing', [FILL, WASH], [S, R, P]],
    ['poured', ['fill, bath: dirty, solvent: own, ml: 9', WASH], [R, P]],
    ['counted', ['stock, solvent: own, counted_ml: 9'], [R, P]],
    ['reclaimed', ['reclaim, container: "a", ml: 9, method: settled, solvent: own'], [R, P]],
    ['washed off', [`${WASH}, resin: grey`], [S, P]],
    ['washed', ['wash, parts: {mask: 1, base: 1}'], [S, R]],
    ['looked at', ['inspect, result: ok, parts: {base: 1}'], [S, R]],
    ['in a wash by its area', ['wash, area_cm2: 9, resin: grey'], [S, P]],
    ['all used', ['fill, bath: dirty, solvent: own, ml: 9', 'wash, parts: {base: 1}, resin: grey'], []],
    ['used by an event that is void', ['wash, parts: {base: 1}', 'void, of: "e0", why: "twice"'], [S, R, P]],
    [
      'used once an event is amended',
      ['wash, parts: {mask: 1}', 'amend, of: "e0", set: {parts: {base: 1}}, why: "x"'],
      [S, R],
    ],
  ])('%s', async (_, events, unused) => {
    const found = await problemsOf(signed(...events), head);
    expect(found).toEqual(
      unused.map((name) => ({
        code: 'unused-name',
        message: `The ${name} is defined in the head and no event uses it`,
        help: expect.stringMatching(`^Take ${name.split(' ')[1]} out of the head`),
        severity: 'error',
      })),
    );
  });

  it('is not used by something of another kind with the same name', async () => {
    const found = await words(signed(WASH, 'wash, parts: {mask: 1}'), {
      more: ['resins:\n  mask: {density_g_ml: 1.1}', 'parts:\n  model: {shape: solid, volume_ml: 9}'],
    });
    expect(found.map(([message]) => message)).toEqual([
      'The resin "mask" is defined in the head and no event uses it',
      'The part "model" is defined in the head and no event uses it',
    ]);
  });

  it('is used where it is the usual resin', async () => {
    const found = await words(signed(FILL), { ...head, shop: 'defaults: {resin: grey}' });
    expect(found.map(([message]) => /"(\w+)"/.exec(message!)![1])).toEqual(['own', 'base']);
  });
});

it('all that is found is told in the order of the lines, what is about no line first', async () => {
  const events = [
    `${WASH}, minutes: [9, 9]`,
    `rotate, ${BY}`,
    `stock, solvent: ipa91, received_ml: 5, at: 2026-11-01T08:00:00Z`,
    `weighed, wash: "e0", wet_g: 2, clean_g: 1, ${BY}`,
    `void, of: "e0", why: "x", logged: 2028-01-01T00:00:00Z, ${BY}`,
    `wash, area_cm2: 9, minutes: [9, 9]`,
  ];
  const bytes = bytesOf(ledgerOf(events, { more: ['resins:\n  grey: {density_g_ml: 1.1}'] }));
  const { header, events: written } = await readLedger(bytes, CATALOGUE);
  const settled = await settle(written, clockMs, header, CATALOGUE);
  const found = strictProblems(header!, written, settled, clockMs);
  expect(found.map(({ code, line }) => [code, line])).toEqual([
    ['unused-name', undefined],
    ['no-initials', 10],
    ['no-container', 11],
    ['out-of-order', 12],
    ['no-initials', 12],
    ['no-lot', 12],
    ['weighed-voided', 13],
    ['logged-in-future', 14],
    ['no-initials', 15],
    ['long-soak', 15],
  ]);
});
