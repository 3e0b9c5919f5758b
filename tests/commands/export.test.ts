/** `export` from a terminal's point of view; each format read back by something that is not ours. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { hasPython, pythonRows } from '../exchange/python.ts';
import { readOpenMetrics, readTextMetrics } from '../render/openmetrics-grammar.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());

const MORE = [
  ...LINES,
  '  - {id: "insp6", at: 2026-11-19T18:00:00-04:00, what: inspect, cases: ["26-0117"], result: sticky, by: "TO", note: "=HYPERLINK(\\"x\\")"}',
  '  - {id: "amnd7", at: 2026-11-19T18:30:00-04:00, what: amend, of: "k3f9x", set: {drained_min: 45}, why: "mistyped", by: "NB"}',
  '  - {id: "stok8", at: 2026-11-19T19:00:00-04:00, what: stock, solvent: ipa99, received_ml: 5000, lot: "K-1", price: 40, supplier_note: "@home"}',
];
const LEDGER = ledgerOf(MORE);
const exported = (...words: string[]) => run(['export', ...words, '--ledger', LEDGER, '--as-of', NOW]);

/** Columns of the rows of a CSV text, by another reader. */
function columns(text: string): (row: number, name: string) => string {
  const [head, ...rows] = pythonRows(text);
  return (row, name) => {
    expect(head).toContain(name);
    return rows[row]![head!.indexOf(name)]!;
  };
}

function holds(text: string): void {
  const schema = JSON.parse(run(['schema', 'export']).out);
  const validate = new Ajv2020({ strict: false, allErrors: true, validateFormats: false }).compile(schema);
  validate(JSON.parse(text));
  expect(validate.errors ?? []).toEqual([]);
}

describe('export ndjson', () => {
  it('has every line of the ledger in its order, as another YAML reader sees it', () => {
    const { code, out } = exported('ndjson');
    expect(code).toBe(0);
    const read = load(readFileSync(LEDGER, 'utf8'), { schema: CORE_SCHEMA }) as {
      events: unknown[];
    };
    expect(
      out
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line)),
    ).toEqual(read.events);
    holds(exported('ndjson', '--json').out);
  });

  it('of a case has what corrects it and belongs to it', () => {
    const ids = exported('ndjson', '--case', '26-0117')
      .out.trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line).id);
    expect(ids).toEqual(['k3f9x', 'insp6', 'amnd7']);
    expect(exported('ndjson', '--lot', 'none')).toMatchObject({
      code: 0,
      out: '',
      err: 'No event has the lot "none"\n',
    });
  });
});

describe.skipIf(!hasPython)('export csv', () => {
  it('has the events, with what a spreadsheet would run made harmless', () => {
    const { out } = exported('csv');
    const cell = columns(out);
    expect(cell(2, 'parts')).toBe('6 model; 2 mask');
    expect(cell(4, 'minutes')).toBe('4; 5');
    expect(cell(5, 'note')).toBe('\'=HYPERLINK("x")');
    expect(cell(6, 'set')).toBe('{"drained_min":45}');
    expect(cell(7, 'supplier_note')).toBe("'@home");
    expect(out).toMatch(/\r\n$/);
    holds(exported('csv', '--json').out);
  });

  it('--what states agrees with entries --states', () => {
    const { out, code } = exported('csv', '--what', 'states', '--bands');
    expect(code).toBe(0);
    const cell = columns(out);
    const { data } = JSON.parse(
      run(['entries', '--states', '--json', '--ledger', LEDGER, '--as-of', NOW]).out,
    );
    for (const [row, entry] of data.entries.entries()) {
      expect(cell(row, 'id')).toBe(entry.id);
      for (const bath of ['dirty', 'clean']) {
        const { resin_wt_pct, volume_ml } = entry.state[bath];
        expect(Number(cell(row, `${bath}_volume_ml`))).toBeCloseTo(volume_ml, 1);
        if (resin_wt_pct === null) continue;
        expect(Number(cell(row, `${bath}_resin_wt_pct`))).toBeCloseTo(resin_wt_pct, 5);
        expect(Number(cell(row, `${bath}_resin_wt_pct_p95`))).toBeCloseTo(
          entry.band[bath].resin_wt_pct.p95 ?? resin_wt_pct,
          4,
        );
      }
    }
    holds(exported('csv', '--what', 'states', '--json').out);
  });

  it('--what washes --case finds the wash of one case: who, when, what, the baths, the result', () => {
    const cell = columns(exported('csv', '--what', 'washes', '--case', '26-0117', '--bands').out);
    const told = Object.fromEntries(
      [
        'id',
        'at',
        'by',
        'parts',
        'parts_count',
        'resin',
        'lot',
        'cases',
        'drained_min',
        'minutes',
        'from_defaults',
        'inspection',
        'inspected',
        'inspected_by',
        'amended_by',
        'model',
        'as_of',
      ].map((name) => [name, cell(0, name)]),
    );
    expect(told).toEqual({
      id: 'k3f9x',
      at: '2026-11-17T11:20:00-04:00',
      by: 'NB',
      parts: '6 model; 2 mask',
      parts_count: '8',
      resin: 'standard',
      lot: 'R7',
      cases: '26-0117',
      // As amended.
      drained_min: '45',
      minutes: '5; 5',
      from_defaults: 'resin; prerinse; midrinse; agitation; minutes',
      inspection: 'sticky',
      inspected: '2026-11-19T18:00:00-04:00',
      inspected_by: 'TO',
      amended_by: 'amnd7',
      model: 'bathbook-model/1',
      as_of: NOW,
    });
    const { data } = JSON.parse(
      run(['entries', '--case', '26-0117', '--states', '--json', '--ledger', LEDGER, '--as-of', NOW]).out,
    );
    const after = data.entries.find((one: { id: string }) => one.id === 'k3f9x');
    expect(Number(cell(0, 'dirty_after_resin_wt_pct'))).toBeCloseTo(after.state.dirty.resin_wt_pct, 5);
    expect(Number(cell(0, 'dirty_after_resin_wt_pct_p05'))).toBeCloseTo(after.band.dirty.resin_wt_pct.p05, 5);
    expect(Number(cell(0, 'dirty_before_resin_wt_pct'))).toBe(0);
    holds(exported('csv', '--what', 'washes', '--json').out);
  });
});

describe('export openmetrics', () => {
  it('holds to the grammar and agrees with baths', () => {
    const { code, out } = exported('openmetrics');
    expect(code).toBe(0);
    const families = readOpenMetrics(out);
    const value = (name: string, labels: Record<string, string>) =>
      families
        .get(name)!
        .samples.find((one) => Object.entries(labels).every(([key, text]) => one.labels[key] === text))!
        .value;
    const { data } = JSON.parse(run(['baths', '--json', '--ledger', LEDGER, '--as-of', NOW]).out);
    for (const bath of data.baths)
      for (const estimate of ['p05', 'p50', 'p95']) {
        const labels = { bath: bath.bath, estimate };
        expect(value('bathbook_bath_resin_ratio', labels)).toBeCloseTo(bath.resin_wt_pct[estimate] / 100, 12);
        expect(value('bathbook_bath_volume_liters', labels)).toBeCloseTo(bath.volume_ml[estimate] / 1000, 12);
        expect(value('bathbook_bath_verdict', { bath: bath.bath, bathbook_bath_verdict: bath.verdict })).toBe(
          1,
        );
      }
    expect(value('bathbook_loads_left', { estimate: 'p50' })).toBe(data.advice.loads_left.p50);
    expect(value('bathbook_last_event_timestamp_seconds', {})).toBe(
      Date.parse('2026-11-19T19:00:00-04:00') / 1000,
    );
    // 5 L came after the pours, by hand.
    expect(value('bathbook_stock_liters', { solvent: 'ipa99' })).toBe(5);
    expect(value('bathbook_waste_this_month_grams', {})).toBeGreaterThan(0);
    holds(exported('openmetrics', '--json').out);
  });

  it('of an empty shop holds to it as well', () => {
    const { out } = run(['export', 'openmetrics', '--ledger', ledgerOf([], HEAD), '--as-of', NOW]);
    const families = readOpenMetrics(out);
    expect(families.get('bathbook_judged')!.samples[0]!.value).toBe(0);
    expect(families.has('bathbook_last_event_timestamp_seconds')).toBe(false);
  });

  it('in the text format has the same numbers, in a file that is there whole', () => {
    const folder = tempFolder();
    const path = join(folder, 'bathbook.prom');
    expect(exported('prometheus', '--out', path)).toMatchObject({
      code: 0,
      out: '',
      err: `Written to ${path}\n`,
    });
    expect(readdirSync(folder)).toEqual(['bathbook.prom']);
    const old = readTextMetrics(readFileSync(path, 'utf8'));
    const lines = exported('openmetrics')
      .out.split('\n')
      .filter((line) => line !== '' && !line.startsWith('#'));
    expect(old.size).toBe(lines.length);
    for (const line of lines) {
      const [, name, value] = /^(.*) (\S+)$/.exec(line)!;
      expect(old.get(name!.includes('{') ? name! : `${name}{}`)).toBe(value);
    }
    holds(exported('prometheus', '--json').out);
  });
});

describe('export refuses', () => {
  it.each([
    [['cvs'], 'Did you mean "csv"?'],
    [['pdf'], 'The formats are csv, ndjson, html, ics, openmetrics, prometheus'],
    [['ics', '--what', 'washes'], 'Cannot use --what with ics'],
    [['csv', '--what', 'wash'], 'Did you mean "washes"?'],
    [['html', '--what', 'states'], 'Cannot export states as html'],
    [['ics', '--by', 'NB'], 'it is for csv, ndjson and html'],
    [['csv', '--bands'], 'Cannot use --bands'],
    [['ndjson', '--from', 'whenever'], 'Cannot read "whenever" as a time'],
  ])('%j', (words, told) => {
    const { code, err } = exported(...words);
    expect(code).toBe(64);
    expect(err).toContain(told);
  });

  it('to write over its own ledger', () => {
    const ledger = ledgerOf(MORE);
    const before = readFileSync(ledger, 'utf8');
    const { code, err } = run(['export', 'ndjson', '--ledger', ledger, '--as-of', NOW, '--out', ledger]);
    expect(code).toBe(64);
    expect(err).toContain('that is a ledger');
    expect(readFileSync(ledger, 'utf8')).toBe(before);
  });

  it.each(['.lock', '.undone', '.torn-2026-11-20T080000000Z-4k'])(
    'to write where %s of its ledger goes, there or not',
    (ending) => {
      const ledger = ledgerOf(MORE);
      const out = `${ledger}${ending}`;
      const words = ['export', 'ndjson', '--ledger', ledger, '--as-of', NOW, '--out', out];
      const { code, err } = run(words);
      expect(code).toBe(64);
      expect(err).toContain('what is kept beside');
      expect(existsSync(out)).toBe(false);
      expect(run([...words.slice(0, -1), `${ledger}.page`]).code).toBe(0);
    },
  );
});
