/** `import` from a terminal's point of view: what is new once, what is there never twice, what is wrong with its line. */
import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const main = bundled();
const run = runner(main);
const DAY_FIRST = 'tests/exchange/shop-day-first.csv';
const MONTH_FIRST = 'tests/exchange/shop-month-first.csv';
/** Full baths a day before the washes of the two tables. */
const FILLED = LINES.slice(0, 2).map((line) => line.replace('2026-11-16', '2026-11-02'));
const SHOP_HEAD = HEAD.replace('events:\n', 'resins:\n  grey: {density_g_ml: 1.11}\nevents:\n');

const MAPS: Record<string, string[]> = {
  [DAY_FIRST]: [
    'date=Datum',
    'time=Uhrzeit',
    'parts.model=Modelle',
    'parts.mask=Masken',
    'parts.splint=Schienen',
    'resin=Harz',
    'drained_min=Tropfzeit',
    'minutes=Bad 1',
    'minutes=Bad 2',
    'cases=Fall',
    'by=Kürzel',
    'note=Bemerkung',
  ],
  [MONTH_FIRST]: [
    'at=Washed on',
    'parts=Items',
    'drained_min=Hung for',
    'minutes=Soak',
    'by=Initials',
    'note=Remarks',
  ],
};
const STYLE: Record<string, string> = { [DAY_FIRST]: 'd/m/y', [MONTH_FIRST]: 'm/d/y' };

function importing(ledger: string, file: string, ...words: string[]) {
  return run(['import', file, ...words, '--ledger', ledger, '--as-of', NOW]);
}

const shopTable = (ledger: string, file: string, ...words: string[]) =>
  importing(ledger, file, ...MAPS[file]!.flatMap((map) => ['--map', map]), ...words);

const lines = (ledger: string) =>
  readFileSync(ledger, 'utf8')
    .split('\n')
    .filter((line) => line.startsWith('  - {'));

/** A file of the test's own. */
function fileOf(name: string, text: string | Uint8Array): string {
  const path = join(tempFolder(), name);
  writeFileSync(path, text);
  return path;
}

function holds(text: string): void {
  const schema = JSON.parse(run(['schema', 'import']).out);
  const validate = new Ajv2020({ strict: false, allErrors: true, validateFormats: false }).compile(schema);
  validate(JSON.parse(text));
  expect(validate.errors ?? []).toEqual([]);
}

describe("a shop's own table", () => {
  it('says which dates can be read in two ways, and writes nothing', () => {
    const ledger = ledgerOf(FILLED, SHOP_HEAD);
    const { code, err } = shopTable(ledger, DAY_FIRST);
    expect(code).toBe(65);
    expect(err).toContain(
      `${DAY_FIRST}:2: Cannot tell what day "03.11.2026" is, 3 November 2026 or 11 March 2026`,
    );
    expect(err).toContain('--date-style d/m/y or --date-style m/d/y');
    expect(lines(ledger)).toEqual(FILLED);
  });

  it.each([
    [DAY_FIRST, '5 new, 0 already present, 1 rejected', 65],
    [MONTH_FIRST, '4 new, 0 already present, 0 rejected', 0],
  ])('%s is taken in, once', (file, summary, exit) => {
    const ledger = ledgerOf(FILLED, SHOP_HEAD);
    const style = ['--date-style', STYLE[file]!];
    const dry = shopTable(ledger, file, ...style, '--dry-run');
    expect(dry.code).toBe(exit);
    expect(dry.out).toContain(`would add   ${summary}`);
    expect(lines(ledger)).toEqual(FILLED);
    const { code, out, err } = shopTable(ledger, file, ...style);
    expect(code).toBe(exit);
    expect(out).toContain(`added       ${summary}`);
    if (exit === 65) {
      expect(err).toContain(`${file}:7: Cannot find the resin "granite" in the head or the catalogue`);
      expect(err).toContain('Add it to the head under "resins:"');
    }
    const written = lines(ledger);
    expect(shopTable(ledger, file, ...style).out).toContain(summary.replace(/(\d) new, 0/, '0 new, $1'));
    expect(lines(ledger)).toEqual(written);
    expect(run(['check', ledger])).toMatchObject({ code: 0, out: '' });
  });

  it('becomes the washes that a person reads in it', () => {
    const ledger = ledgerOf(FILLED, SHOP_HEAD);
    shopTable(ledger, DAY_FIRST, '--date-style', 'd/m/y');
    const { data } = JSON.parse(
      run(['entries', '--what', 'wash', '--json', '--ledger', ledger, '--as-of', NOW]).out,
    );
    expect(data.entries.slice(0, 3)).toMatchObject([
      {
        at: '2026-11-03T07:55:00-04:00',
        parts: { model: 6, mask: 2 },
        drained_min: 30,
        minutes: [5, 5],
        by: 'NB',
        logged: NOW,
      },
      {
        at: '2026-11-03T11:20:00-04:00',
        parts: { splint: 4 },
        drained_min: 75,
        minutes: [4.5, 5],
        cases: ['26-0103'],
      },
      { at: '2026-11-04T16:05:00-04:00', parts: { model: 8 }, resin: 'grey', note: 'Netz "alt" benutzt' },
    ]);
    const other = ledgerOf(FILLED, SHOP_HEAD);
    shopTable(other, MONTH_FIRST, '--date-style', 'm/d/y', '--set', 'resin=grey');
    const { data: second } = JSON.parse(
      run(['entries', '--what', 'wash', '--json', '--ledger', other, '--as-of', NOW]).out,
    );
    expect(second.entries).toMatchObject([
      {
        at: '2026-11-03T07:55:00-04:00',
        parts: { model: 6, mask: 2 },
        drained_min: 30,
        minutes: [5, 5],
        resin: 'grey',
      },
      { at: '2026-11-03T11:20:00-04:00', parts: { splint: 4 }, drained_min: 75, minutes: [4.5, 5] },
      { at: '2026-11-04T16:05:00-04:00', parts: { model: 8 }, drained_min: 720, note: '=SUM(A1:A3)' },
      { at: '2026-11-13T09:10:00-04:00', parts: { mask: 3 }, drained_min: 20 },
    ]);
  });

  it('names what may be the same wash in other words', () => {
    const ledger = ledgerOf(FILLED, SHOP_HEAD);
    shopTable(ledger, MONTH_FIRST, '--date-style', 'm/d/y');
    const { data } = JSON.parse(
      shopTable(ledger, DAY_FIRST, '--date-style', 'd/m/y', '--dry-run', '--json').out,
    );
    expect(data.alike.map(({ line }: { line: number }) => line)).toEqual([2, 3, 4, 5, 6]);
  });
});

describe('copies of one ledger', () => {
  const OWN = '  - {id: "own66", at: 2026-11-20T09:00:00-04:00, what: wash, parts: {die: 4}, by: "TO"}';
  const THEIRS = [
    '  - {id: "the77", at: 2026-11-20T08:30:00-04:00, what: wash, parts: {crown: 3}, cases: ["007"], by: "NB", note: "-1, =2"}',
    '  - {id: "the88", at: 2026-11-20T10:00:00-04:00, what: void, of: "k3f9x", why: "entered twice"}',
  ];

  it.each(['csv', 'ndjson'])('join by %s, and not twice', (format) => {
    const mine = ledgerOf([...LINES, OWN]);
    const theirs = ledgerOf([...LINES, ...THEIRS]);
    const file = join(tempFolder(), `theirs.${format}`);
    run(['export', format, '--out', file, '--ledger', theirs]);
    const { code, out } = importing(mine, file);
    expect(code).toBe(0);
    expect(out).toContain('2 new, 5 already present, 0 rejected');
    expect(lines(mine)).toEqual([...LINES, OWN, ...THEIRS]);
    expect(importing(mine, file).out).toContain('0 new, 7 already present, 0 rejected');
  });

  it('join through a pipe', () => {
    const input = run(['export', 'ndjson', '--ledger', ledgerOf([...LINES, ...THEIRS])]).out;
    const mine = ledgerOf();
    const { out } = run(['import', '-', '--ledger', mine, '--as-of', NOW], { input });
    expect(out).toContain('2 new, 5 already present');
    expect(lines(mine)).toEqual([...LINES, ...THEIRS]);
  });

  it('an entry that was changed by hand in one of them is told and left', () => {
    const other = LINES.map((line) => line.replace('model: 6', 'model: 7'));
    const file = fileOf('x.ndjson', run(['export', 'ndjson', '--ledger', ledgerOf(other)]).out);
    const { code, err, out } = importing(ledgerOf(), file);
    expect(code).toBe(65);
    expect(out).toContain('0 new, 4 already present, 1 rejected');
    expect(err).toContain(
      'x.ndjson:3: Cannot take the event "k3f9x", the ledger has an event with this id that says something else',
    );
  });

  it('imported by several at once is there once', async () => {
    const ledger = ledgerOf(FILLED, SHOP_HEAD);
    const words = ['import', DAY_FIRST, ...MAPS[DAY_FIRST]!.flatMap((map) => ['--map', map])];
    words.push('--date-style', 'd/m/y', '--ledger', ledger, '--as-of', NOW);
    const codes = await Promise.all(
      [1, 2, 3].map(
        () =>
          new Promise((resolve) => {
            spawn(process.execPath, [main, ...words], { env: {}, stdio: 'ignore' }).on('exit', resolve);
          }),
      ),
    );
    expect(codes).toEqual([65, 65, 65]);
    expect(lines(ledger)).toHaveLength(FILLED.length + 5);
  });
});

describe('what is told', () => {
  const ROWS =
    'at,parts,minutes,drain\n2026-11-18,2 model,5; 5,x\n2026-11-18 09:00,1 gargoyle,,\n2026-11-15 09:00,1 model,,\n';

  it('is in the document, key for key', () => {
    const { out, code } = importing(ledgerOf(), fileOf('rows.csv', ROWS), '--json', '--ignore', 'drain');
    expect(code).toBe(65);
    holds(out);
    const { schema, data } = JSON.parse(out);
    expect(schema).toBe('bathbook/import/1');
    expect(data).toMatchObject({
      format: 'csv',
      dry_run: false,
      new: 1,
      present: 0,
      assumed: ['every row is a wash', '1 new row has no time of day and is taken at 12:00'],
      rejected: [
        { line: 3, code: 'unknown-part', help: expect.stringContaining('parts:') },
        { line: 4, code: 'bath-empty' },
      ],
      events: [{ line: 2, event: { at: '2026-11-18T12:00:00-04:00', what: 'wash', parts: { model: 2 } } }],
    });
  });

  it('has at most twenty reasons, and counts the rest', () => {
    const rows = Array.from({ length: 30 }, () => '2026-11-18 09:00,1 gargoyle').join('\n');
    const { err, out } = importing(ledgerOf(), fileOf('rows.csv', `at,parts\n${rows}\n`));
    expect(err.match(/Cannot find the part/g)).toHaveLength(20);
    expect(err).toContain('and 10 more rejected');
    expect(out).toContain('0 new, 0 already present, 30 rejected');
  });

  it('ends with how to undo, which does', () => {
    const ledger = ledgerOf();
    const { out } = importing(ledger, fileOf('rows.csv', 'at,parts\n2026-11-20 09:00,1 model\n'));
    const undo = /to undo\s+bathbook (undo \w+)/.exec(out)![1]!;
    expect(run([...undo.split(' '), '--ledger', ledger, '--as-of', NOW]).code).toBe(0);
    expect(lines(ledger)).toEqual(LINES);
  });
});

describe('a file that cannot be', () => {
  const text = new TextEncoder();
  it.each([
    ['nul.csv', 'at,parts\n2026-11-18 09:00,"1\0model"\n', 65, ':2: Cannot import', 'NUL'],
    ['wide.csv', Buffer.from('\ufeffat,parts\n', 'utf16le'), 65, 'it is UTF-16', 'CSV UTF-8'],
    ['latin.csv', Buffer.from('at,note\n2026-11-18,Gerät\n', 'latin1'), 65, ':2: Cannot import', 'not UTF-8'],
    ['empty.csv', '', 65, 'it is empty', 'names the columns'],
    ['open.csv', 'at,parts\n2026-11-18,"1 model\n', 65, ':2: Cannot read the row', 'never closed'],
    [
      'typo.csv',
      'at,prats\n2026-11-18,1 model\n',
      64,
      'Cannot tell what the column "prats" is',
      'did you mean "parts"?',
    ],
    ['ledger.csv', HEAD, 65, 'Cannot import a ledger', 'bathbook export ndjson'],
  ])('%s is refused and nothing is written', (name, content, exit, told, help) => {
    const ledger = ledgerOf();
    const file = fileOf(name, typeof content === 'string' ? text.encode(content) : content);
    const { code, err } = importing(ledger, file);
    expect(code).toBe(exit);
    expect(err).toContain(told);
    expect(err.toLowerCase()).toContain(help.toLowerCase());
    expect(err).not.toContain('fault of its own');
    expect(lines(ledger)).toEqual(LINES);
  });

  it.each(['washes', 'states'])('is our own table of %s, whose estimates nobody logged', (what) => {
    const ledger = ledgerOf();
    const table = run(['export', 'csv', '--what', what, '--ledger', ledger, '--as-of', NOW]).out;
    const { code, err } = importing(ledger, fileOf(`${what}.csv`, table));
    expect(code).toBe(65);
    expect(err).toContain(`Cannot import a table of ${what} with the estimates of the model`);
    expect(err).toContain('bathbook export csv --out events.csv');
    // What it points to can be.
    const events = run(['export', 'csv', '--ledger', ledger, '--as-of', NOW]).out;
    expect(importing(ledgerOf([]), fileOf('events.csv', events)).out).toContain('5 new');
  });

  it('is missing, or a folder', () => {
    expect(importing(ledgerOf(), join(tempFolder(), 'none.csv'))).toMatchObject({ code: 66 });
    expect(importing(ledgerOf(), tempFolder()).code).toBe(66);
  });

  it('with a byte order mark, a huge cell and formulas is taken as far as it goes', () => {
    const ledger = ledgerOf();
    const huge = 'x'.repeat(5_000_000);
    const rows = `\ufeffat,parts,note\n2026-11-18 09:00,1 model,'=1+1\n2026-11-18 10:00,1 model,${huge}\n2026-11-18 11:00,1 model,+49 171\n`;
    const { code, out, err } = importing(ledger, fileOf('odd.csv', rows));
    expect(code).toBe(65);
    expect(out).toContain('2 new, 0 already present, 1 rejected');
    expect(err.length).toBeLessThan(1000);
    expect(
      lines(ledger)
        .slice(-2)
        .map((line) => /note: (.*)\}/.exec(line)![1]),
    ).toEqual(['"=1+1"', '"+49 171"']);
  });
});
