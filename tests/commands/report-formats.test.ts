/** The formats of `report`: documents against their schema, Markdown read back, hostile text shown as text in both. */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { documentSchema } from '../../src/render/schemas.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());
const on = (ledger: string, ...args: string[]) =>
  run(['report', '--ledger', ledger, '--as-of', NOW, ...args]);

/** Every key must be described: an object with named keys takes no others. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (typeof schema !== 'object' || schema === null) return schema;
  const inner = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
  const isObject = inner.type === 'object' && 'properties' in inner && !('additionalProperties' in inner);
  return isObject ? { ...inner, additionalProperties: false } : inner;
}

function faultsOf(text: string): unknown[] {
  const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false, allErrors: true });
  (addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
  const validate = ajv.compile(closed(documentSchema('report')) as object);
  validate(JSON.parse(text));
  return validate.errors ?? [];
}

const at = (time: string) => `at: 2026-11-20T${time}:00-04:00`;
const BUSY = [
  ...LINES,
  `  - {id: "stk1a", ${at('08:00')}, what: stock, solvent: ipa99, received_ml: 10000, price: 70, lot: "L-7", by: "NB"}`,
  `  - {id: "opn1a", ${at('08:10')}, what: waste, container: "can-1", action: opened, capacity_l: 10}`,
  `  - {id: "redg1", ${at('09:00')}, what: reading, bath: dirty, density_g_ml: 0.92, temp_c: 22}`,
  `  - {id: "weig1", ${at('09:30')}, what: weighed, wash: "wash5", wet_g: 103, clean_g: 102}`,
  `  - {id: "topu1", ${at('09:40')}, what: top-up, bath: dirty, from: clean, ml: 50}`,
  `  - {id: "rot1a", ${at('10:00')}, what: rotate, solvent: ipa99, into: "can-1"}`,
  `  - {id: "was1a", ${at('11:00')}, what: wash, parts: {model: 2}, logged: 2026-11-20T11:30:00-04:00}`,
  `  - {id: "ins1a", ${at('12:00')}, what: inspect, result: sticky, parts: {model: 1}, by: "NB"}`,
  `  - {id: "amd1a", ${at('13:00')}, what: amend, of: "was1a", set: {drained_min: 30}, why: "typed wrong"}`,
  `  - {id: "col1a", ${at('14:00')}, what: waste, container: "can-1", action: collected}`,
];

describe('the document', () => {
  it.each([
    ['a busy day', BUSY, HEAD],
    ['a quiet day', LINES, HEAD],
    ['a new shop', [], HEAD],
    ['one bath', [], HEAD.replace(/ {2}clean: .*\n/, '')],
    ['a ledger at odds', [`  - {id: "early", ${at('07:00')}, what: rotate}`, ...LINES], HEAD],
  ])('of %s fits its schema, key for key', (_, lines, head) => {
    const { out } = on(ledgerOf(lines, head), '--json');
    expect(faultsOf(out)).toEqual([]);
  });

  it('is the same by --json and by --format json', () => {
    const ledger = ledgerOf(BUSY);
    expect(on(ledger, '--format', 'json').out).toBe(on(ledger, '--json').out);
  });

  it('does not take just anything', () => {
    const document = JSON.parse(on(ledgerOf(BUSY), '--json').out);
    document.data.washes.loads = -1;
    expect(faultsOf(JSON.stringify(document))).not.toEqual([]);
  });
});

/** Cells of a table row: parted by the bars that no backslash stands before. */
function cells(row: string): string[] {
  return row
    .replace(/^\| | \|$/g, '')
    .split(/(?<=(?:^|[^\\])(?:\\\\)*) \| /)
    .map((cell) => cell.trim());
}

/** As a reader sees it: backslashes before signs taken off. */
function shown(markdown: string): string {
  return markdown.replaceAll(/\\([!-/:-@[-`{-~])/g, '$1');
}

/** Blocks between blank lines. */
const blocksOf = (page: string) => page.trimEnd().split('\n\n');

describe('Markdown', () => {
  const page = on(ledgerOf(BUSY), '--format', 'markdown').out;

  it('is one title, then sections, each of tables and lists', () => {
    const heads = page.split('\n').filter((line) => line.startsWith('#'));
    expect(heads[0]).toBe('# Cove Street Bench, report of Fri 2026-11-20 17:00');
    expect(heads.slice(1)).toEqual(
      [
        'Baths',
        'Washes',
        'Readings',
        'Changes',
        'Solvent',
        'Waste, November 2026',
        'Inspections',
        'Corrections',
      ].map((title) => `## ${title}`),
    );
    for (const block of blocksOf(page).slice(2)) {
      const kinds = new Set(block.split('\n').map((line) => /^(## |\||- |Ledger: )/.exec(line)?.[1]));
      expect([...kinds]).toHaveLength(1);
      expect(kinds).not.toContain(undefined);
    }
  });

  it('has tables with as many cells in every row, and a rule under the head', () => {
    const tables = blocksOf(page).filter((block) => block.startsWith('|'));
    expect(tables.length).toBeGreaterThanOrEqual(4);
    for (const table of tables) {
      const [head, rule, ...rows] = table.split('\n');
      expect(rule).toMatch(/^\|(?:---\|)+$/);
      const columns = rule!.split('|').length - 2;
      for (const row of [head!, ...rows]) expect(cells(row)).toHaveLength(columns);
      expect(rows.length).toBeGreaterThan(0);
    }
    const [baths] = tables;
    expect(baths!.split('\n')[0]).toBe('|  | dirty | clean |');
  });

  it('says what the plain page says, word for word', () => {
    const words = (text: string) => text.replaceAll(/[\s|#-]+/g, ' ').trim();
    const plain = words(on(ledgerOf(BUSY), '--from', '2026-11-19').out);
    const marked = words(shown(on(ledgerOf(BUSY), '--from', '2026-11-19', '--format', 'markdown').out));
    const end = / ?ledger: .*$/i;
    expect(marked.replace(end, '')).toBe(plain.replace(end, ''));
  });
});

const HOSTILE = [
  '| a | b | c |',
  '<script>alert(1)</script><img src=x onerror=alert(1)>',
  '[click](javascript:alert(1)) <http://evil.example>',
  '![x](http://evil.example/x.png)',
  'http://evil.example www.evil.example a@evil.example @everyone #1',
  '**bold** __bold__ `code` ~~gone~~ $x$ {{x}}',
  '- item',
  '1. item',
  '+ item',
  '# head',
  '=====',
  '> quote',
  '    code',
  '\\| \\ \\\\| trailing \\',
  '&lt;b&gt; &amp; &#60;',
  '=HYPERLINK("http://evil.example")',
];

describe('hostile text', () => {
  /** The same words wherever a ledger takes free text. */
  const hostile = (text: string) => {
    const quoted = JSON.stringify(text);
    return ledgerOf(
      [
        ...LINES,
        `  - {id: "ins1a", ${at('12:00')}, what: inspect, result: sticky, cases: [${quoted}], by: ${quoted}, note: ${quoted}}`,
        `  - {id: "rot1a", ${at('13:00')}, what: rotate, solvent: ipa99, into: ${quoted}, by: ${quoted}}`,
        `  - {id: "void1", ${at('14:00')}, what: void, of: "ins1a", why: ${quoted}, by: ${quoted}}`,
        `  - {id: "ins2a", ${at('15:00')}, what: inspect, result: sticky, note: ${quoted}}`,
        `  - {id: "stk1a", ${at('16:00')}, what: stock, solvent: ipa99, received_ml: 100, lot: ${quoted}}`,
      ],
      HEAD.replace('Cove Street Bench', quoted),
    );
  };

  /** Signs that begin markup, where no backslash stands before them; but for what the page itself is built of. */
  function markupIn(page: string): string[] {
    return page.split('\n').flatMap((line) => {
      const inner = line
        .replace(/^#{1,2} |^- /, '')
        .replaceAll(/^\|(?:---\|)+$|^\| | \| | \|$|^\|/g, ' ')
        .replaceAll(/\\[!-/:-@[-`{-~]/g, '');
      return inner.match(/[\\`*_[\]<>|~&#!@$]|:\/\/|\bwww\./gi) ?? [];
    });
  }

  it.each(HOSTILE)('%s is shown as it was typed, and is no markup', (text) => {
    const { code, out } = on(hostile(text), '--format', 'markdown');
    expect(code).toBe(0);
    expect(markupIn(out)).toEqual([]);
    // In the title, the note and the reason, the initials and the lot.
    expect(shown(out).split(text).length - 1).toBeGreaterThanOrEqual(5);
    for (const table of blocksOf(out).filter((block) => block.startsWith('|'))) {
      const [, rule, ...rows] = table.split('\n');
      for (const row of rows) expect(cells(row)).toHaveLength(rule!.split('|').length - 2);
    }
    expect(out.split('\n').filter((line) => /^#/.test(line)).length).toBe(
      blocksOf(out).filter((b) => /^#/.test(b)).length,
    );
  });

  it('of any signs keeps the tables whole', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom(...'|\\`*_[]<>~&#!@$-+=1. :/w'), minLength: 1, maxLength: 20 }),
        (text) => {
          fc.pre(text.trim() === text && text !== '');
          const { out } = on(hostile(text), '--format', 'markdown');
          expect(markupIn(out)).toEqual([]);
          expect(shown(out)).toContain(`"${text}"`);
        },
      ),
      { numRuns: 12, seed: 20261120 },
    );
  });

  it('cannot steer a terminal or turn the direction of writing', () => {
    const ledger = hostile('\u001b[31mred\u001b[0m \u202egnp.exe\u0007');
    for (const format of ['text', 'markdown']) {
      const { out } = on(ledger, '--format', format);
      expect(out.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\u202a-\u202e\u2066-\u2069]/u);
      expect(out).toContain('red');
    }
    // Programs get it as it is, escaped by JSON.
    expect(JSON.parse(on(ledger, '--json').out).data.inspections[0].note).toContain('\u202e');
  });
});

describe('a file', () => {
  it('that is named like what a report is not is refused, and nothing is written', () => {
    const out = join(tempFolder(), 'friday.pdf');
    const { code, err } = on(ledgerOf(), '--out', out);
    expect(code).toBe(64);
    expect(err).toContain('a report is no pdf');
    expect(existsSync(out)).toBe(false);
    // Whoever names the format has it in any file.
    expect(on(ledgerOf(), '--out', out, '--format', 'text').code).toBe(0);
    expect(existsSync(out)).toBe(true);
  });
});
