import { readdirSync, readFileSync } from 'node:fs';
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { type LedgerFile, readLedger } from '../../src/ledger/read.ts';
import { bytesOf, FILL, HEAD, ledger, WASH } from './sample.ts';

const read = (text: string): Promise<LedgerFile> => readLedger(bytesOf(text));
const idsOf = (file: LedgerFile): string[] => file.events.map((written) => written.event.id);
const codesOf = (file: LedgerFile): string[] => file.problems.map((problem) => problem.code);

const folder = new URL('../golden/', import.meta.url);
const goldens = readdirSync(folder).filter((name) => name.endsWith('.yaml'));

describe('golden ledgers', () => {
  it.each(goldens)(
    '%s gives the data that a second YAML parser gives, without the full parser',
    async (name) => {
      const bytes = readFileSync(new URL(name, folder));
      const file = await readLedger(bytes);
      const { events, ...head } = load(bytes.toString(), { schema: CORE_SCHEMA }) as { events: unknown[] };
      expect(file.header).toEqual(head);
      expect(file.events.map((written) => written.event)).toEqual(events);
      expect(file).toMatchObject({
        problems: [],
        moreProblems: 0,
        slowEvents: 0,
        tail: 'whole',
        newline: '\n',
        indent: 2,
      });
    },
  );

  it.each(goldens)('%s tells the line of each event', async (name) => {
    const bytes = readFileSync(new URL(name, folder));
    const lines = bytes.toString().split('\n');
    for (const { event, line, place } of (await readLedger(bytes)).events) {
      expect(lines[line - 1]).toContain(`{id: "${event.id}"`);
      expect(place).toBeLessThan(line);
    }
  });
});

describe('the form of the file', () => {
  it('takes Windows line ends and says so', async () => {
    const file = await read(ledger(FILL, WASH).replaceAll('\n', '\r\n'));
    expect(file).toMatchObject({ newline: '\r\n', problems: [], slowEvents: 0, tail: 'whole' });
    expect(idsOf(file)).toEqual(['k3f9', 'k5q2']);
  });

  it('takes a byte order mark', async () => {
    const file = await readLedger(new Uint8Array([0xef, 0xbb, 0xbf, ...bytesOf(ledger(FILL))]));
    expect(file.problems).toEqual([]);
    expect(idsOf(file)).toEqual(['k3f9']);
  });

  it.each([
    ['nothing', 'events:\n', false],
    ['nothing and no line end', 'events:', false],
    ['a remark', 'events: # from today\n\n# none yet\n', false],
    ['an empty list', 'events: []\n', true],
    ['an empty list with a remark', 'events: [ ] # none\n', true],
  ])('takes %s after "events:"', async (_, rest, emptyList) => {
    expect(await read(HEAD + rest)).toMatchObject({ problems: [], events: [], emptyList, indent: null });
  });

  it('takes remarks and blank lines anywhere', async () => {
    const text = `# ours\n\n${ledger('# first\n', '\n', FILL, '      # deep\n', '   \n', WASH.replace('\n', '  # busy\n'))}# end\n`;
    const file = await read(text);
    expect(file).toMatchObject({ problems: [], slowEvents: 0 });
    expect(file.events.map((written) => written.line)).toEqual(
      text.split('\n').flatMap((line, at) => (line.includes('{id') ? [at + 1] : [])),
    );
  });

  it('takes dashes at the very left', async () => {
    expect(await read(`${HEAD}events:\n${FILL.trimStart()}${WASH.trimStart()}`)).toMatchObject({
      problems: [],
      indent: 0,
    });
  });

  it('takes what a person may type differently, through the full parser', async () => {
    const typed =
      "  - {what: 'fill', id: 'k3f9', at: '2026-11-02T07:40:00-04:00', \"bath\": dirty, solvent: ipa99, ml: 4000.}\n";
    const file = await read(ledger(typed, WASH));
    expect(file).toMatchObject({ problems: [], slowEvents: 1 });
    expect(file.events[0]!.event).toEqual({
      what: 'fill',
      id: 'k3f9',
      at: '2026-11-02T07:40:00-04:00',
      bath: 'dirty',
      solvent: 'ipa99',
      ml: 4000,
    });
    expect(file.events.map((written) => written.event)).toEqual(parse(ledger(typed, WASH)).events);
  });

  it('takes names that are unusual but allowed without the full parser', async () => {
    const text = ledger(
      FILL,
      'id: "a.b", at: 2026-11-03T08:00:00Z, what: wash, parts: {Modell: 1, Model-v2: 2}, resin: Grey',
    ).replace('solvents:', 'resins:\n  Grey: {density_g_ml: 1.11}\nsolvents:');
    expect(await read(text)).toMatchObject({
      problems: [],
      slowEvents: 0,
      events: [{ place: 0 }, { place: 1 }],
    });
  });

  it('takes a head in another style, through the full parser', async () => {
    const head = HEAD.replace('  name: Cobble Hill Bench', '  "name": >-\n    Cobble\n    Hill');
    expect((await read(`${head}events:\n${FILL}`)).header?.shop.name).toBe('Cobble Hill');
  });
});

describe('remarks at the top', () => {
  it.each(['#'.repeat(300), `# ${'# '.repeat(200)}`, `#${' '.repeat(500)}`])(
    'of many signs are passed over',
    async (remark) => {
      expect(await read(`${remark}\n${ledger(FILL)}`)).toMatchObject({ problems: [], slowEvents: 0 });
    },
  );

  it.each(['', '\n\n', '# a\n', '  # a\r\n\t\n#b', '\ufeff'])(
    'alone are an empty ledger: %j',
    async (text) => {
      expect(codesOf(await read(text))).toEqual(['empty-file']);
    },
  );
});

describe('the end of the file', () => {
  it('never reads a cut last line as another event', async () => {
    const whole = ledger(FILL, WASH);
    const bytes = bytesOf(whole);
    const start = bytesOf(ledger(FILL)).length;
    for (let end = start; end <= bytes.length; end++) {
      const file = await readLedger(bytes.subarray(0, end));
      const isWhole = end >= bytes.length - 1;
      expect(idsOf(file), `cut at ${end - start}`).toEqual(isWhole ? ['k3f9', 'k5q2'] : ['k3f9']);
      expect(file.problems.filter((problem) => problem.severity === 'error')).toEqual([]);
      const blanks = end - start;
      const tail =
        end === bytes.length || blanks === 0 ? 'whole' : isWhole || blanks <= 2 ? 'no-newline' : 'torn';
      expect(file.tail, `cut at ${end - start}`).toBe(tail);
    }
  });

  it('names the line it ignored', async () => {
    const file = await read(`${ledger(FILL)}  - {id: "k5q2", at: 2026`);
    expect(file.problems).toMatchObject([{ code: 'torn-tail', severity: 'warning', line: 11 }]);
  });

  it('takes a whole last line without a line end', async () => {
    expect(await read(ledger(FILL).trimEnd())).toMatchObject({
      tail: 'no-newline',
      problems: [],
      events: [{ place: 0 }],
    });
  });
});

describe('problems', () => {
  it('are gathered, twenty told and the rest counted, in the order of the file', async () => {
    const wrong = (id: number): string =>
      `  - {id: "w${id}", at: 2026-11-03T08:00:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: -1}\n`;
    const file = await read(ledger(FILL, ...Array.from({ length: 25 }, (_, id) => wrong(id)), WASH));
    expect(file.problems).toHaveLength(20);
    expect(file.moreProblems).toBe(5);
    expect(file.problems.map((problem) => problem.line)).toEqual(
      Array.from({ length: 20 }, (_, at) => 11 + at),
    );
    expect(idsOf(file)).toEqual(['k3f9', 'k5q2']);
  });

  it('of one event are told together', async () => {
    const file = await read(
      ledger(
        'id: "a", at: 2026-11-03T08:00:00-04:00, what: wash, parts: {model: 2.5}, minutes: [5, 2000], lott: "7"',
      ),
    );
    expect(codesOf(file).sort()).toEqual(['not-whole', 'out-of-range', 'unknown-key']);
  });

  it('of the head and of events are told together', async () => {
    const file = await read(ledger(FILL, '  - oops\n').replace('shop:\n', 'shop:\n  room_c: 99\n'));
    expect(codesOf(file)).toEqual(['out-of-range', 'event-not-a-map']);
    expect(file.header).toBeNull();
  });

  it('of a newer format are the only ones', async () => {
    const file = await read(
      ledger('  - {new: things}\n').replace('bathbook/1', 'bathbook/3').replace('shop:', 'workshop:'),
    );
    expect(codesOf(file)).toEqual(['newer-format']);
  });

  it('point at the culprit in the line as it stands', async () => {
    const line =
      "  - {id: 'é', at: 2026-11-03T08:00:00-04:00, what: fill, bath: dirty, solvent: ipa99, ml: 4 L}\n";
    const [problem] = (await read(ledger(line).replaceAll('\n', '\r\n'))).problems;
    const { column = 0, length = 0, excerpt = '' } = problem!;
    expect(excerpt).toBe(line.trimEnd());
    expect(excerpt.slice(column - 1, column - 1 + length)).toBe('4 L');
  });

  it('of names come only with the catalogue, but baths are always known', async () => {
    const text = ledger(
      'id: "a", at: 2026-11-03T08:00:00-04:00, what: wash, parts: {gizmo: 1}, baths: [third]',
    );
    expect(codesOf(await read(text))).toEqual(['unknown-bath']);
    const catalogue = { solvents: {}, resins: {}, parts: { model: {} } };
    expect(codesOf(await readLedger(bytesOf(text), catalogue))).toEqual(['unknown-part', 'unknown-bath']);
  });
});

describe('hostile keys', () => {
  it.each(['__proto__: {ml: 1}', '"__proto__": 1', 'parts: {__proto__: 3}', 'parts: {"__proto__": 3}'])(
    '%s are refused',
    async (entry) => {
      const file = await read(
        ledger(`id: "a", at: 2026-11-03T08:00:00-04:00, what: wash, area_cm2: 5, ${entry}`),
      );
      expect(codesOf(file)).toContain('bad-name');
      expect(({} as Record<string, unknown>).ml).toBeUndefined();
    },
  );

  it.each(['constructor', 'toString', 'hasOwnProperty'])('the name %s is refused', async (name) => {
    const file = await read(ledger(FILL).replace('ipa99: {', `${name}: {`));
    expect(codesOf(file)).toEqual(['bad-name']);
  });
});
