/** `outlook --chart` and `--until` as they are run. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { documentSchema } from '../../src/render/schemas.ts';
import { bundled, ledgerOf, NOW, runner } from './bundle.ts';

const DEMO = ['--ledger', 'data/demo.yaml', '--as-of', '2026-11-20T16:00:00-06:00'];
const run = runner(bundled());
const demo = (words: string[], env: Record<string, string> = { LANG: 'C.UTF-8' }) =>
  run(['outlook', ...words, ...DEMO], { env });

/** Every key must be described. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (typeof schema !== 'object' || schema === null) return schema;
  const inner = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, closed(value)]));
  return 'properties' in inner && !('additionalProperties' in inner)
    ? { ...inner, additionalProperties: false }
    : inner;
}

function dataOf(text: string) {
  const schema = closed(documentSchema('outlook')) as object;
  const validate = new Ajv2020({ strict: false, allErrors: true, validateFormats: false }).compile(schema);
  validate(JSON.parse(text));
  expect(validate.errors ?? []).toEqual([]);
  return JSON.parse(text).data;
}

describe('the chart', () => {
  it('is drawn off a terminal only when asked for', () => {
    expect(demo([]).out).not.toMatch(/[░•]/);
    expect(demo(['--chart']).out).toMatch(/\ndirty bath.*░.*\nclean bath.*•/s);
    expect(demo(['--chart', '--no-chart']).out).toBe(demo([]).out);
  });

  it('is ASCII where the locale or the terminal has no more', () => {
    const chart = (env: Record<string, string>) => demo(['--chart'], env).out.split('next change')[0]!;
    for (const env of [
      {},
      { LANG: 'C' },
      { LC_ALL: 'POSIX', LANG: 'C.UTF-8' },
      { TERM: 'dumb', LANG: 'C.UTF-8' },
    ])
      expect(chart(env)).toMatch(/^[\x20-\x7e\n]+$/);
    for (const env of [{ LANG: 'en_CA.UTF-8' }, { LC_CTYPE: 'C.utf8', LANG: 'C' }, { LC_ALL: 'C.UTF-8' }])
      expect(chart(env)).toContain('░');
  });

  it('fits windows of 60 to 200 columns', () => {
    for (const width of [60, 80, 120, 200]) {
      const lines = demo(['--chart'], { COLUMNS: String(width), LANG: 'C.UTF-8' }).out.split('\n');
      expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(width);
    }
  });

  it('has the values that baths tells as of each time', () => {
    const { trail, ahead, date, first_limit: limit } = dataOf(demo(['--json']).out);
    expect(trail.length).toBeGreaterThan(20);
    for (const at of [0, 1, 5, 9, 14, trail.length - 1]) {
      const { bath, date: time, resin_wt_pct: value } = trail[at];
      const then = run(['baths', '--json', '--ledger', 'data/demo.yaml', '--as-of', time]).out;
      const told = JSON.parse(then).data.baths.find(
        (one: { bath: string }) => one.bath === bath,
      ).resin_wt_pct;
      for (const key of ['p05', 'p50', 'p95']) expect(value[key]).toBeCloseTo(told[key], 9);
    }
    const now = JSON.parse(run(['baths', '--json', ...DEMO]).out);
    const own = ahead.filter(({ bath }: { bath: string }) => bath === limit.bath);
    expect(own[0].date).toBe(now.as_of);
    // From the clean bath's change limit, 2 wt%, the other way round: the first end of a day past it is that of the date.
    const met = own.find(({ resin_wt_pct: value }: { resin_wt_pct: { p50: number } }) => value.p50 >= 2);
    expect(Date.parse(met.date) - Date.parse(date.p50)).toBeGreaterThanOrEqual(0);
    expect(Date.parse(met.date) - Date.parse(date.p50)).toBeLessThan(86_400_000);
  });
});

describe('the lines', () => {
  const out = demo([], { LANG: 'C.UTF-8', COLUMNS: '200' }).out;

  it('tell what a rotation pours into each bath: the clean mark, and what the dirty one lacks', () => {
    const [, all, clean, dirty, unit] =
      /for it +rotate: ([\d.]+) L of solvent, ([\d.]+) L into the clean bath and ([\d.]+) (m?L) to bring/.exec(
        out,
      )!;
    expect(Number(clean)).toBe(2.5); // the mark in data/demo.yaml
    expect(Number(all)).toBeCloseTo(Number(clean) + Number(dirty) / (unit === 'L' ? 1 : 1000), 1);
  });

  it('put the age limits in their order, and say which comes before that change', () => {
    const told = /age limit +(.*)\n/.exec(out)![1]!;
    const dates = [...told.matchAll(/\d{4}-\d\d-\d\d/g)].map(([date]) => date);
    expect(dates).toEqual([...dates].sort());
    const limit = /date +\w+ (\d{4}-\d\d-\d\d)/.exec(out)![1]!;
    for (const one of told.split('; ')) {
      const date = /\d{4}-\d\d-\d\d/.exec(one)![0];
      expect(one.endsWith('before that change')).toBe(date < limit);
    }
    // At a slow pace the age of the solvent comes first.
    expect(demo(['--per-day', '0.2']).out).toContain(', before that change');
  });
});

describe('up to a day', () => {
  it('echoes the day, and says in words what the document says', () => {
    const { out, code } = demo(['--until', 'end of year']);
    expect(code).toBe(0);
    expect(out).toMatch(/^until +Thu 2026-12-31, 42 days$/m);
    const { until } = dataOf(demo(['--until', 'end of year', '--json']).out);
    expect(until.to).toBe('2027-01-01T00:00:00-06:00');
    expect(out).toMatch(new RegExp(`^changes +${until.changes.p50} \\(.*rotate$`, 'm'));
    expect(out).toMatch(new RegExp(`^solvent +${(until.solvent_ml.p50 / 1000).toFixed(1)} \\(`, 'm'));
    expect(out).toMatch(/^cost +CAD \d+ \(\d+–\d+\), ipa99 at 7\.40 a litre; for waste/m);
    expect(until.change_dates).toHaveLength(until.rotations + until.refills);
    expect(until.fill_ml + until.make_up_ml + until.top_up_ml).toBeCloseTo(until.solvent_ml.p50, 6);
    // 74 for 10 L, the last receipt.
    expect(until.cost.p50).toBeCloseTo((7.4 * until.solvent_ml.p50) / 1000, 9);
    expect(until.stock.short_ml.p50).toBeCloseTo(
      Math.max(0, until.solvent_ml.p50 - until.stock.on_hand_ml),
      6,
    );
  });

  it('is null in the document unless asked for', () => {
    expect(dataOf(demo(['--json']).out).until).toBeNull();
  });

  it('takes more with more days, and orders sooner with a longer lead', () => {
    const until = (...words: string[]) => dataOf(demo([...words, '--json']).out).until;
    const [short, long] = [until('--until', '6 weeks'), until('--until', '26 weeks')];
    for (const key of ['loads', 'changes', 'solvent_ml', 'waste_g'])
      expect(long[key].p50).toBeGreaterThan(short[key].p50);
    const slow = until('--until', '26 weeks', '--lead', '21d').stock.order_by;
    expect(Date.parse(long.stock.order_by) - Date.parse(slow)).toBeCloseTo(14 * 86_400_000, -4);
  });

  it('says what has no price and no stock', () => {
    const { out } = run(['outlook', '--until', '6 weeks', '--ledger', ledgerOf(), '--as-of', NOW]);
    expect(out).toMatch(/^cost +not known: ipa99 has no price in the ledger$/m);
    expect(out).toMatch(
      /^on hand +ipa99: not known, no stock was logged\n +log a count: bathbook stock counted ipa99 7\.5 L$/m,
    );
  });

  it('refuses a day that is over or too far', () => {
    expect(demo(['--until', 'yesterday'])).toMatchObject({ code: 64, out: '' });
    expect(demo(['--until', '2040-01-01']).err).toContain('more than 5 years ahead');
    expect(demo(['--until', 'whenever']).err).toContain('help: ');
  });
});
