import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, type Ran, runner } from './bundle.ts';

const run = runner(bundled());
let path: string;
const text = () => readFileSync(path, 'utf8');
const original = HEAD + LINES.map((line) => `${line}\n`).join('');

function said(...args: string[]): Ran {
  return run([...args, '--ledger', path, '--as-of', NOW]);
}

function state(): unknown {
  return JSON.parse(said('baths', '--json').out).data.baths;
}

beforeEach(() => {
  path = ledgerOf();
});

describe('undo', () => {
  it('cuts the last line off, keeps a copy and shows what was undone', () => {
    const { code, out } = said('undo');
    expect(code).toBe(0);
    expect(out).toContain('wash5');
    expect(out).toContain(`${path}.undone`);
    expect(text()).toBe(original.replace(`${LINES.at(-1)}\n`, ''));
    expect(readFileSync(`${path}.undone`, 'utf8')).toBe(`${LINES.at(-1)}\n`);
  });

  it('tells in words what it took back, and how to put it back', () => {
    const { out } = said('undo');
    const told = out.replaceAll(/\s+/g, ' ');
    expect(told).toContain('wash5, wash of 2026-11-19 16:40 3 splint, resin standard,');
    expect(told).toContain('spray before, 4 + 5 min');
    expect(out).not.toContain('what: wash');
    expect(told).toContain(
      ` to put back bathbook wash 3 splint --prerinse spray --minutes 4,5 --at 2026-11-19T16:40:00-04:00 --by NB --ledger ${path} `,
    );
    expect(said('undo', '--dry-run').out).not.toContain('to put back');
  });

  it('tells of a correction what it had changed', () => {
    said('amend', 'k3f9x', 'drained_min=45', '--why', 'clock');
    expect(said('undo').out).toContain('k3f9x is as it was before; it was amended: drained_min: 45; clock');
    said('void', 'k3f9x', '--why', 'twice');
    expect(said('undo').out).toContain('k3f9x counts again; it was void: twice');
  });

  it('takes a wash back as if it had never been logged', () => {
    const before = state();
    expect(said('wash', '6', 'model').code).toBe(0);
    expect(state()).not.toEqual(before);
    expect(said('undo').code).toBe(0);
    expect(text()).toBe(original);
    expect(state()).toEqual(before);
  });

  it('voids an entry that is not the last line', () => {
    expect(said('undo', 'k3f9x', '--json').code).toBe(0);
    expect(text().startsWith(original)).toBe(true);
    expect(text().slice(original.length)).toMatch(
      /^ {2}- \{id: "\w{5}", at: .*, what: void, of: "k3f9x", why: "undone"/,
    );
  });

  it('voids the last line too when words are to be kept with it', () => {
    expect(said('undo', '--why', 'other shop').code).toBe(0);
    expect(text().slice(original.length)).toContain('of: "wash5", why: "other shop"');
  });

  it('voids the last entry when a remark stands after it', () => {
    const { path: withRemark } = { path: ledgerOf([...LINES, '  # end of the week']) };
    path = withRemark;
    expect(said('undo').code).toBe(0);
    expect(text()).toMatch(/# end of the week\n {2}- \{.*of: "wash5"/);
  });

  it('undoes a void, so that the entry counts again', () => {
    const before = state();
    said('void', 'k3f9x', '--why', 'mistake');
    expect(state()).not.toEqual(before);
    said('undo');
    expect(state()).toEqual(before);
    expect(text()).toBe(original);
  });

  it('writes nothing on a dry run', () => {
    const { out } = said('undo', '--dry-run');
    expect(out).toContain('would undo');
    expect(text()).toBe(original);
  });

  it('refuses when later events need the entry, and when there is nothing', () => {
    const [fill, ...others] = LINES;
    path = ledgerOf([...others, fill!]);
    const refused = said('undo');
    expect(refused.code).toBe(65);
    expect(refused.err).toContain('k3f9x');
    expect(text()).toContain(fill);
    path = ledgerOf([]);
    expect(said('undo').code).toBe(65);
  });
});

describe('the word last', () => {
  it('is the last entry that counts, to void and to undo', () => {
    expect(said('void', 'last', '--why', 'typed twice').code).toBe(0);
    expect(text().slice(original.length)).toContain('what: void, of: "wash5", why: "typed twice"');
    expect(said('undo', 'last').code).toBe(0);
    expect(text()).toBe(original);
    expect(said('undo', 'last').code).toBe(0);
    expect(text()).toBe(original.replace(`${LINES.at(-1)}\n`, ''));
  });

  it('passes over corrections in amend', () => {
    expect(said('amend', 'last', 'drained_min=45', '--why', 'clock').code).toBe(0);
    expect(said('amend', 'last', 'drained_min=50', '--why', 'clock').code).toBe(0);
    expect(
      text()
        .slice(original.length)
        .match(/what: amend, of: "wash5"/g),
    ).toHaveLength(2);
  });

  it('is an id where an entry has it, and nothing in a ledger without entries', () => {
    path = ledgerOf(LINES.map((line) => line.replace('"tpup4"', '"last"')));
    const before = text();
    expect(said('undo', 'last', '--dry-run', '--json').out).toContain('"of": "last"');
    expect(text()).toBe(before);
    path = ledgerOf([]);
    expect(said('amend', 'last', 'note=x', '--why', 'x')).toMatchObject({
      code: 64,
      err: expect.stringMatching(/^Cannot find a last entry/),
    });
  });
});

describe('void', () => {
  it('appends a line, leaves the rest as it is and tells the reason', () => {
    const { code, out } = said('void', 'k3f9x', '--why', 'entered "twice"', '--by', 'TO');
    expect(code).toBe(0);
    const told = out.replaceAll(/\s+/g, ' ');
    expect(told).toContain(
      'k3f9x no longer counts: wash of 2026-11-17 11:20, 6 model + 2 mask, resin standard, drained 30 min,',
    );
    expect(told).toContain('case 26-0117, lot R7');
    expect(told).toMatch(/ to undo bathbook undo \w{5} --ledger \S+ then k3f9x counts again $/);
    expect(text().slice(0, original.length)).toBe(original);
    expect(text().slice(original.length)).toContain('of: "k3f9x", why: "entered \\"twice\\"", by: "TO"}');
  });

  it('tells an entry as it was amended, and of a void what counts again', () => {
    said('amend', 'k3f9x', 'drained_min=45', '--why', 'clock');
    expect(said('void', 'k3f9x', '--why', 'twice').out.replaceAll(/\s+/g, ' ')).toContain('drained 45 min');
    const void1 = /id: "(\w{5})", at: [^ ]+ what: void/.exec(text())![1]!;
    const { out } = said('void', void1, '--why', 'it was right');
    expect(out).toContain('k3f9x counts again');
    expect(out).toMatch(/^ +then k3f9x is void as before$/m);
  });

  it('leaves the baths as though the entry were not there', () => {
    said('void', 'wash5', '--why', 'other shop');
    const voided = state();
    path = ledgerOf(LINES.slice(0, -1));
    expect(voided).toEqual(state());
  });

  it('refuses what is voided already, and says how to bring it back', () => {
    said('void', 'k3f9x', '--why', 'twice');
    const { code, err } = said('void', 'k3f9x', '--why', 'twice');
    expect(code).toBe(64);
    const back = /bathbook void (\w+) /.exec(err)?.[1];
    const before = state();
    expect(said('void', back!, '--why', 'it was right').code).toBe(0);
    expect(state()).not.toEqual(before);
  });

  it('refuses a fill that washes need, and shows what was typed', () => {
    const { code, err } = said('void', 'fill3', '--why', 'wrong bath');
    expect(code).toBe(65);
    expect(err).toContain('Not logged: bathbook void fill3 --why "wrong bath"');
    expect(text()).toBe(original);
  });
});

describe('amend', () => {
  it('counts as if the entry had been typed right, its line untouched', () => {
    const { code, out } = said(
      'amend',
      'k3f9x',
      'drained_min=1.5 h',
      'parts=4 model, 2 mask',
      '--why',
      'an hour more',
    );
    expect(code).toBe(0);
    expect(out).toContain('drained_min 30 → 90');
    expect(text().slice(0, original.length)).toBe(original);
    expect(text().slice(original.length)).toContain('set: {drained_min: 90, parts: {model: 4, mask: 2}}');
    const amended = state();
    path = ledgerOf(
      LINES.map((line) =>
        line.replace('{model: 6, mask: 2}, drained_min: 30', '{model: 4, mask: 2}, drained_min: 90'),
      ),
    );
    expect(amended).toEqual(state());
  });

  it.each([
    ['minutes=4,6', 'minutes: [4, 6]'],
    ['at=2026-11-17 12:20', 'at: 2026-11-17T12:20:00-04:00'],
    ['at=2 days ago', 'at: 2026-11-18T17:00:00-04:00'],
    ['parts={model: 5}', 'parts: {model: 5}'],
    ['cases=007,26-0118', 'cases: ["007", "26-0118"]'],
    ['lot=1e5', 'lot: "1e5"'],
    ['hollow=yes', 'hollow: true'],
    ['carry_g=6 g', 'carry_g: 6'],
    ['note=the key = is kept', 'note: "the key = is kept"'],
  ])('reads %s in the words of a command', (change, line) => {
    expect(said('amend', 'k3f9x', change, '--why', 'x')).toMatchObject({ code: 0 });
    expect(text().slice(original.length)).toContain(`set: {${line}}`);
  });

  it.each([
    [['drained_min=long'], 64, 'Cannot read "long"'],
    [['drained_min='], 64, 'to nothing'],
    [['what=fill'], 64, 'Cannot amend "what"'],
    [['drained_min'], 64, 'key=value'],
    [['parts=4 modle'], 64, 'Did you mean "model"?'],
    [['resin=grey'], 65, 'grey'],
    [['drained_min=99999'], 65, '20160'],
    [['at=2026-11-15 08:00'], 65, 'empty'],
  ])('refuses %j and leaves the ledger alone', (changes, exit, part) => {
    const { code, err } = said('amend', 'k3f9x', ...changes, '--why', 'x');
    expect(err).toContain(part);
    expect(err).toContain('Not logged: ');
    expect(code).toBe(exit);
    expect(text()).toBe(original);
  });

  it('amends what was amended before', () => {
    said('amend', 'k3f9x', 'drained_min=90', '--why', 'x');
    expect(said('amend', 'k3f9x', 'drained_min=45', '--why', 'y').out).toContain('drained_min 90 → 45');
  });

  it('refuses a change that makes another entry impossible, even while it mends one', () => {
    const early =
      '  - {id: "early", at: 2026-11-15T08:00:00-04:00, what: wash, parts: {model: 1}, baths: [dirty]}';
    path = ledgerOf([early, ...LINES]);
    expect(said('baths').err).toContain('"early"');
    expect(said('amend', 'fill2', 'at=2026-11-15 07:00', '--why', 'x').code).toBe(0);
    expect(said('baths').err).not.toContain('"early"');
    // With 12 mL in the bath the early wash is possible, and the next one no more: as many are impossible as before.
    path = ledgerOf([early, ...LINES.slice(0, 3)]);
    const written = text();
    const { code, err } = said('amend', 'fill2', 'at=2026-11-15 07:00', 'ml=12', '--why', 'x');
    expect(err).toMatch(
      /bathbook\.yaml:12:\d+: This amend would make what is logged impossible\. Event "k3f9x"/,
    );
    expect(err).not.toContain('early');
    expect(code).toBe(65);
    expect(text()).toBe(written);
  });
});

describe('a ledger whose corrections are wrong', () => {
  const lines = [
    ...LINES,
    '  - {id: "void6", at: 2026-11-19T17:00:00-04:00, what: void, of: "nope", why: "x"}',
  ];

  it.each([['baths'], ['wash', '1', 'model'], ['undo', 'k3f9x']])(
    'stops %s %s %s and shows the place',
    (...args) => {
      path = ledgerOf(lines);
      const { code, err } = said(...args.filter((arg) => arg !== undefined));
      expect(code).toBe(65);
      expect(err).toContain(`${path}:14:`);
      expect(err).toContain('"nope"');
    },
  );

  it('lets undo cut the wrong line off', () => {
    path = ledgerOf(lines);
    expect(said('undo').code).toBe(0);
    expect(text()).toBe(original);
  });
});

describe('an entry that moves nothing', () => {
  const STOCK =
    '  - {id: "stck6", at: 2026-11-20T09:00:00-04:00, what: stock, solvent: ipa99, received_ml: 10000, lot: "A1"}';

  it('is taken back without a word of the baths', () => {
    for (const words of [['undo'], ['void', 'stck6', '--why', 'slip']]) {
      path = ledgerOf([...LINES, STOCK]);
      const { code, out } = said(...words);
      expect(code).toBe(0);
      expect(out).toContain('stck6');
      expect(out).not.toMatch(/^(?:dirty|clean|advice) /m);
    }
    path = ledgerOf();
    expect(said('undo').out).toMatch(/^dirty .*\nclean .*\nadvice .*/m);
  });
});

describe('several at once', () => {
  it('are undone together: each has its void, and the baths are those without them', () => {
    const ids = ['k3f9x', 'wash5'];
    const resin = () => (state() as { resin_g: unknown }[]).map(({ resin_g }) => resin_g);
    const { code, out } = said('undo', ...ids);
    expect(code).toBe(0);
    const voids = text().slice(original.length);
    expect([...voids.matchAll(/what: void, of: "(\w+)"/g)].map(([, id]) => id)).toEqual(ids);
    expect(out).toContain('then they count again');
    const undone = resin();
    path = ledgerOf(LINES.filter((line) => !ids.some((id) => line.includes(id))));
    expect(undone).toEqual(resin());
  });

  it('are refused together where one cannot be, and nothing is written', () => {
    for (const [wrong, why] of [
      ['nosuch', 'Cannot find an entry with the id "nosuch"'],
      ['k3f9x', 'Cannot void "k3f9x" twice'],
    ] as const) {
      const { code, err } = said('void', 'k3f9x', wrong, '--why', 'slip');
      expect([code, err.split('\n')[0]]).toEqual([64, why]);
    }
    expect(text()).toBe(original);
  });
});
