/** `export html`: the page says what other commands say, and is text all through. */
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { HtmlValidate } from 'html-validate';
import { parse } from 'parse5';
import { describe, expect, it } from 'vitest';
import demo from '../../data/demo.yaml';
import { all, attribute, textOf } from '../render/chart-reader.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());

const HOSTILE = [
  '<script>alert(1)</script>',
  '</dd></dl></section><h1>taken</h1>',
  '"><img src=x onerror=alert(1)>',
  '</title></style><!-- &lt;b&gt;',
] as const;
const MORE = [
  ...LINES,
  '  - {id: "weigh", at: 2026-11-17T14:00:00-04:00, what: weighed, wash: "k3f9x", wet_g: 210, clean_g: 204.5, by: "NB"}',
  '  - {id: "read1", at: 2026-11-18T10:00:00-04:00, what: reading, bath: dirty, resin_wt_pct: 0.2}',
  '  - {id: "twice", at: 2026-11-18T11:00:00-04:00, what: wash, parts: {die: 1}, cases: ["26-0117"], by: "TO"}',
  '  - {id: "void1", at: 2026-11-18T11:30:00-04:00, what: void, of: "twice", why: "logged two times", by: "TO"}',
  `  - {id: "hosti", at: 2026-11-19T17:00:00-04:00, logged: 2026-11-19T19:15:00-04:00, what: wash, parts: {model: 1}, baths: ["clean"], cases: [${JSON.stringify(HOSTILE[0])}], lot: ${JSON.stringify(HOSTILE[1])}, by: ${JSON.stringify(HOSTILE[2])}, note: ${JSON.stringify(HOSTILE[3])}}`,
  '  - {id: "insp6", at: 2026-11-19T18:00:00-04:00, what: inspect, cases: ["26-0117"], result: sticky, by: "TO", note: "one arch"}',
  '  - {id: "amnd7", at: 2026-11-19T18:30:00-04:00, what: amend, of: "k3f9x", set: {drained_min: 45}, why: "mistyped", by: "NB"}',
];
const LEDGER = ledgerOf(MORE, HEAD.replace('Cove Street Bench', JSON.stringify(`Bench ${HOSTILE[3]}`)));

const on = (ledger: string, ...words: string[]) => run([...words, '--ledger', ledger, '--as-of', NOW]);
const page = (...words: string[]) => on(LEDGER, 'export', 'html', '--what', 'washes', ...words);
const words = (text: string) => text.replaceAll(/[\s\u00a0]+/g, ' ').trim();
type Node = ReturnType<typeof all>[number];

/** What stands beside each label, of one block: lists and tables alike. */
function told(section: Node): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const row of all(section, ({ tagName }) => tagName === 'tr'))
    found.set(
      words(textOf(all(row, ({ tagName }) => tagName === 'th')[0]!)),
      all(row, ({ tagName }) => tagName === 'td').map((cell) => words(textOf(cell))),
    );
  for (const term of all(section, ({ tagName }) => tagName === 'dt'))
    found.set(
      words(textOf(term)),
      all((term as unknown as { parentNode: Node }).parentNode, ({ tagName }) => tagName === 'dd').map(
        (one) => words(textOf(one)),
      ),
    );
  return found;
}

function blocks(html: string): Node[] {
  return all(parse(html) as never, (one) => attribute(one, 'aria-labelledby') !== undefined);
}

describe('the record of one case', () => {
  const { code, err, out } = page('--case', '26-0117');
  const [block] = blocks(out);
  const says = told(block!);

  it('has one block, and is written without a word beside it', () => {
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(blocks(out)).toHaveLength(1);
  });

  it('says who, when, what, in the words of the ledger, and marks what is from defaults', () => {
    // Halifax is four hours behind in November: IANA zone database.
    expect(words(textOf(block!))).toMatch(/^Wash k3f9x Tue 2026-11-17 11:20 -04:00 /);
    expect(says.get('washed by')).toEqual(['NB']);
    expect(says.get('logged')).toEqual(['when it happened']);
    expect(says.get('cases')).toEqual(['26-0117']);
    // 6 models of 32 mL and 2 masks of 3 mL: 198 mL; LEDGER, part shapes: 6 × 8.5 × 32^(2/3) + 2 × 8 × 3 = 562 cm².
    expect(says.get('parts')).toEqual(['6 model, 2 mask (198 mL, 562 cm²)']);
    expect(says.get('lot')).toEqual(['R7']);
    expect(says.get('drained')).toEqual(['45 min']);
    expect(says.get('resin')).toEqual(['standard (default)']);
    expect(says.get('agitation')).toEqual(['still (default)']);
    expect(says.get('rinse before')).toEqual(['none (default)']);
    expect(says.get('parts in it')).toEqual(['first, 5 min (default)', 'second, 5 min (default)']);
  });

  it('says what became of it', () => {
    expect(says.get('inspection')).toEqual([
      'sticky, Thu 2026-11-19 18:00 -04:00 by TO, case 26-0117: one arch',
    ]);
    expect(says.get('corrections')).toEqual([
      'drained_min 30 → 45, Thu 2026-11-19 18:30 -04:00 by NB: mistyped (amnd7)',
    ]);
    expect(says.get('weighed')).toEqual(['210 g before the first bath, 204.5 g washed and dry, by NB']);
    expect(words(textOf(parse(out) as never))).toContain(
      'Wash twice of Wed 2026-11-18 11:00 -04:00 by TO (1 die), taken back Wed 2026-11-18 11:30 -04:00 by TO: logged two times (void1)',
    );
  });

  it('agrees with baths at that time, and with entries', () => {
    const at = '2026-11-17T11:20:00-04:00';
    const { data } = JSON.parse(on(LEDGER, 'entries', '--case', '26-0117', '--states', '--json').out);
    const { state, band } = data.entries.find((one: { id: string }) => one.id === 'k3f9x');
    const ledger = ledgerOf(MORE.filter((line) => /"(fill\d|k3f9x|weigh|amnd7)"/.test(line)));
    const { baths, last_wash: wash } = JSON.parse(
      run(['baths', '--json', '--ledger', ledger, '--as-of', '2026-11-19T18:30:00-04:00']).out,
    ).data;
    const numbers = (text: string) => [...text.matchAll(/\d+(?:\.\d+)?/g)].map(([one]) => one);
    const same = (shown: string, value: number) =>
      expect(shown).toBe(value.toFixed(shown.split('.')[1]?.length ?? 0));
    for (const [place, bath] of ['dirty', 'clean'].entries()) {
      const [before, after] = says.get('resin, wt%')![place]!.split(' → ');
      expect(before).toBe('0.00');
      const [best, low, high] = numbers(after!);
      same(best!, state[bath].resin_wt_pct);
      same(low!, band[bath].resin_wt_pct.p05);
      same(high!, band[bath].resin_wt_pct.p95);
      same(numbers(says.get('level, L')![place]!.split(' → ')[1]!)[0]!, state[bath].volume_ml / 1000);
      const { resin_wt_pct: resin } = baths[place].limits;
      expect(numbers(says.get('limits of resin, wt%')![place]!).map(Number)).toEqual(resin);
      // Poured on the 16th at 8:00 and 8:05.
      const poured = [`2026-11-16T08:00:00-04:00`, `2026-11-16T08:05:00-04:00`][place]!;
      const days = (Date.parse(at) - Date.parse(poured)) / 86_400_000;
      expect(says.get('age of solvent, days')![place]).toMatch(new RegExp(`^${days.toFixed(1)} of `));
    }
    const [best, low, high] = numbers(says.get('residue, dry')![0]!);
    // A band of hundreds to both sides supports tens.
    const { p05, p50, p95 } = wash.residue_ug_per_cm2;
    expect((p95 - p05) / 2).toBeGreaterThan(100);
    expect([best, low, high].map(Number)).toEqual(
      [p50, p05, p95].map((value) => 10 * Math.round(value / 10)),
    );
    same(numbers(says.get('resin carried in')![0]!)[0]!, wash.carry_g.p50);
  });

  it('names the ledger with the digest of its bytes, the program, the model, the time', () => {
    const head = told(parse(out) as never);
    expect(head.get('ledger')).toEqual([LEDGER]);
    expect(head.get('its SHA-256')).toEqual([
      createHash('sha256').update(readFileSync(LEDGER)).digest('hex'),
    ]);
    expect(head.get('made by')![0]).toMatch(/^bathbook \d+\.\d+\.\d+, bathbook-model\/1$/);
    expect(head.get('as of')).toEqual(['Fri 2026-11-20 17:00 -04:00']);
    expect(head.get('times in')).toEqual(['America/Halifax']);
    const text = words(textOf(block!));
    expect(text).toContain('no statement that a part is clean or safe');
    for (const label of ['reviewed by (name)', 'date', 'signature']) expect(text).toContain(label);
  });
});

describe('records of several washes', () => {
  it('have a list first, then a block for each, in their order', () => {
    const { out } = page();
    const ids = ['k3f9x', 'wash5', 'hosti'];
    const list = all(parse(out) as never, (one) => attribute(one, 'class') === 'list')[0]!;
    const rows = all(list, ({ tagName }) => tagName === 'tr').slice(1);
    expect(rows.map((row) => textOf(all(row, ({ tagName }) => tagName === 'td')[0]!))).toEqual(ids);
    expect(blocks(out).map((one) => /Wash (\w+)/.exec(textOf(one))![1])).toEqual(ids);
    expect(page('--case', '26-0117').out).not.toContain('class="list"');
    // A sheet may be filed without the first.
    const digest = createHash('sha256').update(readFileSync(LEDGER)).digest('hex');
    for (const block of blocks(out)) expect(textOf(block)).toContain(digest.slice(0, 16));
  });

  it('count washes and readings since each bath was changed', () => {
    const says = told(blocks(page('--by', 'NB').out)[1]!);
    expect(says.get('washes since change')).toEqual(['1 before this one', '1 before this one']);
    expect(says.get('readings since change')).toEqual(['1', 'none']);
  });

  it('are those of csv with the same filters', () => {
    for (const filter of [
      ['--by', 'NB'],
      ['--lot', 'R7'],
      ['--from', '2026-11-19'],
      ['--to', '2026-11-18'],
    ]) {
      const rows = (...format: string[]) =>
        JSON.parse(on(LEDGER, 'export', ...format, '--what', 'washes', ...filter, '--json').out).data.rows;
      const table = rows('csv', '--bands');
      expect(rows('html')).toEqual(table);
      expect(table.length).toBeGreaterThan(0);
      expect(blocks(page(...filter).out)).toHaveLength(table.length);
    }
  });

  it('that stay out of one bath say so, and when they were typed', () => {
    const says = told(blocks(page('--case', HOSTILE[0]).out)[0]!);
    expect(says.get('parts in it')).toEqual(['not in this wash', '5 min (default)']);
    expect(says.get('logged')).toEqual(['Thu 2026-11-19 19:15 -04:00']);
  });

  it('with --json hold to the schema', () => {
    const schema = JSON.parse(run(['schema', 'export']).out);
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(schema);
    validate(JSON.parse(page('--json').out));
    expect(validate.errors ?? []).toEqual([]);
  });
});

describe('a filter that nothing matches', () => {
  it.each([
    ['--case', '26-0171', 'No wash has the case "26-0171". Did you mean "26-0117"?'],
    ['--by', 'ZZZZ', 'No wash is by "ZZZZ"'],
    ['--from', '2026-11-20', 'No wash matches'],
  ])('%s %s makes a table without rows, and says so', (option, value, note) => {
    expect(on(LEDGER, 'export', 'csv', '--what', 'washes', option, value)).toMatchObject({
      code: 0,
      err: `${note}\n`,
    });
  });

  it.each([
    [
      '--case',
      '26-0171',
      'Cannot make a record, no wash has the case "26-0171"\n  help: Did you mean "26-0117"?\n',
    ],
    [
      '--by',
      'ZZZZ',
      'Cannot make a record, no wash is by "ZZZZ"\n  help: The washes there are: bathbook entries --what wash\n',
    ],
  ])('%s %s makes no record, which would look like one', (option, value, err) => {
    expect(on(LEDGER, 'export', 'html', option, value)).toEqual({ code: 64, out: '', err });
  });

  it('makes a record that says so of a time without washes', () => {
    const { out, code, err } = on(LEDGER, 'export', 'html', '--from', '2026-11-20');
    expect([code, err]).toEqual([0, 'No wash matches\n']);
    expect(blocks(out)).toEqual([]);
    expect(textOf(parse(out) as never)).toContain('The ledger has no wash that counts with');
  });

  it('takes a name that only a correction brought in', () => {
    const corrected = ledgerOf([
      ...LINES,
      '  - {id: "amnd9", at: 2026-11-20T09:00:00-04:00, what: amend, of: "wash5", set: {cases: ["26-0500"]}, why: "forgotten"}',
    ]);
    const { out, code } = on(corrected, 'export', 'html', '--case', '26-0500');
    expect(code).toBe(0);
    expect(blocks(out)).toHaveLength(1);
  });
});

describe('the page', () => {
  const validate = new HtmlValidate({
    extends: ['html-validate:recommended'],
    rules: {
      'doctype-style': ['error', { style: 'lowercase' }],
      'long-title': 'off',
      'no-trailing-whitespace': 'off',
    },
  });
  const faults = async (html: string) =>
    (await validate.validateString(html)).results.flatMap(({ messages }) =>
      messages.map(({ ruleId, message, line }) => `${ruleId}: ${message} (${line})`),
    );

  it.each([
    ['of one', ['--case', '26-0117']],
    ['of all', []],
    ['of none', ['--case', 'x']],
  ])('%s is valid', async (_, filter) => {
    expect(await faults(page(...filter).out)).toEqual([]);
  });

  it('shows hostile words as words, has no script and lets nothing in', () => {
    const { out } = page();
    const document = parse(out) as never;
    const elements = all(document, () => true);
    const names = new Set(elements.map(({ tagName }) => tagName));
    for (const name of ['script', 'img', 'a', 'link', 'iframe', 'form', 'base'])
      expect(names).not.toContain(name);
    for (const element of elements)
      for (const { name } of element.attrs) expect(name).not.toMatch(/^on|^style$|href$|^src/);
    expect(elements.filter(({ tagName }) => tagName === 'h1')).toHaveLength(1);
    for (const one of HOSTILE) expect(textOf(document)).toContain(one);
    const policy = elements.find((one) => attribute(one, 'http-equiv') === 'Content-Security-Policy')!;
    const style = elements.find(({ tagName }) => tagName === 'style')!;
    const digest = createHash('sha256').update(textOf(style)).digest('base64');
    expect(attribute(policy, 'content')).toBe(
      `default-src 'none'; style-src 'sha256-${digest}'; base-uri 'none'; form-action 'none'`,
    );
  });

  it('of a shop with an event that cannot have happened says that it is left out', () => {
    const early =
      '  - {id: "early", at: 2026-11-15T08:00:00-04:00, what: wash, parts: {model: 1}, cases: ["26-0100"]}';
    const { out, code } = on(ledgerOf([early, ...LINES]), 'export', 'html', '--case', '26-0100');
    expect(code).toBe(0);
    const text = words(textOf(parse(out) as never));
    expect(text).toContain('Event "early" (wash) uses the dirty bath, which is empty at that time');
    expect(page('--case', '26-0117').out).not.toContain('leave out');
    const all = on(ledgerOf([early, ...LINES]), 'export', 'html');
    expect(textOf(parse(all.out) as never)).toContain('leave out 1 event of the ledger');
  });

  it('is not made of more washes than a browser can bear', () => {
    const many = Array.from(
      { length: 1001 },
      (_, nth) =>
        `  - {id: "w${nth}", at: ${new Date(Date.parse('2026-11-17T00:00:00Z') + nth * 60_000).toISOString()}, what: wash, parts: {die: 1}}`,
    );
    const { code, err } = on(ledgerOf([...LINES.slice(0, 2), ...many]), 'export', 'html');
    expect(code).toBe(64);
    expect(err).toContain('Cannot put 1001 washes on one page, at most 1000');
  });

  it('of the sample shop finds one case in one command, in a file', () => {
    const folder = tempFolder();
    const ledger = join(folder, 'bathbook.yaml');
    writeFileSync(ledger, demo);
    const out = join(folder, 'record.html');
    const ran = run(['export', 'html', '--case', '26-0463', '--ledger', ledger, '--out', out]);
    expect(ran).toMatchObject({ code: 0, out: '', err: `Written to ${out}\n` });
    const says = told(blocks(readFileSync(out, 'utf8'))[0]!);
    // data/demo.yaml, taykn and its amend pg6a3.
    expect(says.get('parts')![0]).toMatch(/^7 model, 1 die /);
    expect(says.get('corrections')![0]).toMatch(
      /^drained_min 15 → 60, .* by MO: hung over lunch, typed wrong/,
    );
  });
});
