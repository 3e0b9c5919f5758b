/** The page of `report --format html`: valid, self-contained, and its charts read back against the other commands. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { parse } from 'parse5';
import { describe, expect, it } from 'vitest';
import demo from '../../data/demo.yaml';
import { all, attribute, type Chart, chartsOf, type Read, textOf } from '../render/chart-reader.ts';
import { bundled, HEAD, LINES, ledgerOf, NOW, runner, tempFolder } from './bundle.ts';

const run = runner(bundled());
const DAY = 86_400_000;

/** In UTC. */
const rfc3339 = (ms: number) => new Date(ms).toISOString().replace(/\.\d+Z$/, '+00:00');

/** The sample shop, looked at right after its last entry. */
function sample() {
  const path = join(tempFolder(), 'bathbook.yaml');
  writeFileSync(path, demo);
  const asOf = [...demo.matchAll(/\bat: ([^,]+),/g)].at(-1)![1]!;
  const json = (...args: string[]) =>
    JSON.parse(run([...args, '--json', '--ledger', path, '--as-of', asOf]).out).data;
  const { out, err, code } = run(['report', '--format', 'html', '--ledger', path, '--as-of', asOf]);
  return { path, asOf, nowMs: Date.parse(asOf), json, html: out, err, code };
}

const shop = sample();
const charts = chartsOf(shop.html);
const BATHS = ['dirty', 'clean'] as const;
const KINDS = ['resin', 'water'] as const;
const KEYS = { resin: 'resin_wt_pct', water: 'water_wt_pct' } as const;
const chartFor = (of: (typeof KINDS)[number], bath: (typeof BATHS)[number]): Chart =>
  charts.get(`${of}-${BATHS.indexOf(bath) + 1}`)!;
const each = BATHS.flatMap((bath) => KINDS.map((of) => ({ bath, of })));

/** Whether a curve passes a point: within a column of its thinning, and what a coordinate is rounded by. */
function passes(curve: readonly Read[], { atMs, value }: Read, chart: Chart): boolean {
  const wide = 0.9 * chart.msPerUnit;
  const high = 0.06 * chart.valuePerUnit;
  const near = curve.filter((one, place) => {
    const [from, to] = [curve[place - 1]?.atMs ?? one.atMs, curve[place + 1]?.atMs ?? one.atMs];
    return to >= atMs - wide && from <= atMs + wide;
  });
  const values = near.map((one) => one.value);
  return Math.min(...values) - high <= value && value <= Math.max(...values) + high;
}

describe('charts, read back', () => {
  const entries = shop.json('entries', '--states').entries as {
    at: string;
    what: string;
    state: Record<string, Record<string, number | null>>;
    band: Record<string, Record<string, { p05: number; p50: number; p95: number }>>;
  }[];
  const moved = entries.filter(({ what }) => ['fill', 'wash', 'top-up', 'rotate', 'refill'].includes(what));

  it('are the ones that belong on the page', () => {
    expect([...charts.keys()]).toEqual(['resin-1', 'resin-2', 'water-1', 'water-2', 'residue', 'washes']);
    expect(moved.length).toBeGreaterThan(120);
  });

  it.each(each)('$of of the $bath bath passes the state after every event', ({ of, bath }) => {
    const chart = chartFor(of, bath);
    const curve = chart.curve('best');
    const missed = moved.filter(({ at, state }) => {
      const value = state[bath]?.[KEYS[of]];
      return typeof value === 'number' && !passes(curve, { atMs: Date.parse(at), value }, chart);
    });
    expect(missed).toEqual([]);
    // The reader can tell: half a per cent off is not passed.
    const { at, state } = moved.at(-1)!;
    const off = { atMs: Date.parse(at), value: state[bath]![KEYS[of]]! + 0.5 };
    expect(passes(curve, off, chart)).toBe(false);
  });

  it.each(each)(
    '$of of the $bath bath never leaves what the states before and after allow',
    ({ of, bath }) => {
      const chart = chartFor(of, bath);
      const states = entries.flatMap(({ at, state }) => {
        const value = state[bath]?.[KEYS[of]];
        return typeof value === 'number' ? [{ atMs: Date.parse(at), value }] : [];
      });
      // The air and a reading move a bath between two events by less than this, wt%.
      const drift = 0.35;
      for (const { atMs, value } of chart.curve('best')) {
        const near = states.filter((one) => Math.abs(one.atMs - atMs) < 4 * DAY).map((one) => one.value);
        expect(value).toBeGreaterThan(Math.min(...near) - drift);
        expect(value).toBeLessThan(Math.max(...near) + drift);
      }
    },
  );

  it.each(each)(
    '$of of the $bath bath has the band after events, as far as it is in the chart',
    ({ of, bath }) => {
      const chart = chartFor(of, bath);
      const band = chart.curve('band');
      const high = 0.06 * chart.valuePerUnit;
      let checked = 0;
      for (const { at, band: bands } of moved) {
        const told = bands[bath]?.[KEYS[of]];
        if (!told) continue;
        const atMs = Date.parse(at);
        const here = band.filter((one) => Math.abs(one.atMs - atMs) < 0.06 * chart.msPerUnit);
        if (here.length === 0) continue;
        checked += 1;
        const nearest = (value: number) => Math.min(...here.map((one) => Math.abs(one.value - value)));
        // The table's band takes the answer to a step of a hundredth, the chart's a slope.
        expect(nearest(told.p05)).toBeLessThan(high + 0.01 * told.p05);
        expect(nearest(told.p95)).toBeLessThan(high + 0.01 * told.p95);
      }
      expect(checked).toBeGreaterThan(60);
    },
  );

  it.each(each)('$of of the $bath bath ends today where the report says', ({ of, bath }) => {
    const chart = chartFor(of, bath);
    const told = shop.json('report').baths.find((one: { bath: string }) => one.bath === bath)[KEYS[of]];
    const last = chart.curve('best').at(-1)!;
    expect(Math.abs(last.atMs - shop.nowMs)).toBeLessThan(0.1 * chart.msPerUnit);
    expect(Math.abs(last.value - told.p50)).toBeLessThan(0.06 * chart.valuePerUnit);
    const limits = shop.json('report').baths.find((one: { bath: string }) => one.bath === bath).limits[
      KEYS[of]
    ];
    const drawn = chart.limits();
    expect(drawn.length).toBeGreaterThanOrEqual(2);
    for (const { named, drawn: height } of drawn) {
      expect(limits).toContain(named);
      expect(Math.abs(height - named)).toBeLessThan(0.06 * chart.valuePerUnit);
    }
  });

  it.each(BATHS)('resin of the %s bath goes ahead as the outlook does', (bath) => {
    const chart = chartFor('resin', bath);
    const told = (
      shop.json('outlook').ahead as { bath: string; date: string; resin_wt_pct: { p50: number } }[]
    ).filter((one) => one.bath === bath);
    const ahead = chart.curve('best-ahead');
    expect(ahead).toHaveLength(told.length);
    told.forEach(({ date, resin_wt_pct: { p50 } }, place) => {
      expect(Math.abs(ahead[place]!.atMs - Date.parse(date))).toBeLessThan(0.1 * chart.msPerUnit);
      expect(Math.abs(ahead[place]!.value - p50)).toBeLessThan(0.06 * chart.valuePerUnit);
    });
  });

  it('have every bar of the washes as high as the entries of its day', () => {
    const chart = charts.get('washes')!;
    const washes = entries.filter(({ what }) => what === 'wash');
    // Local days: the time in the ledger is the shop's own.
    const perDay = new Map<string, number>();
    for (const { at } of washes) perDay.set(at.slice(0, 10), (perDay.get(at.slice(0, 10)) ?? 0) + 1);
    const drawn = /data-curve="bars" d="([^"]+)"/.exec(shop.html)![1]!;
    const [, , , , low, high, bottom, top] = [
      ...attributeOf('washes', 'data-x').split(' ').map(Number),
      ...attributeOf('washes', 'data-y').split(' ').map(Number),
    ] as number[];
    const heights = [...drawn.matchAll(/V(-?[\d.]+)H/g)].map(
      ([, y]) => low! + ((bottom! - Number(y)) * (high! - low!)) / (bottom! - top!),
    );
    const told = [...perDay].sort(([one], [other]) => (one < other ? -1 : 1)).map(([, loads]) => loads);
    expect(heights).toHaveLength(told.length);
    heights.forEach((height, place) => {
      expect(Math.abs(height - told[place]!)).toBeLessThan(0.06 * chart.valuePerUnit);
    });
  });

  it('end the residue with that of the last wash', () => {
    const chart = charts.get('residue')!;
    const told = shop.json('baths').last_wash.residue_ug_per_cm2.p50;
    const last = chart.curve('dots').at(-1)!;
    expect(Math.abs(last.value - told)).toBeLessThan(0.06 * chart.valuePerUnit);
  });
});

function attributeOf(id: string, name: string): string {
  const svg = all(parse(shop.html) as never, (one) =>
    (attribute(one, 'aria-labelledby') ?? '').startsWith(`${id}-title`),
  )[0]!;
  return attribute(svg, name)!;
}

describe('readings in a chart', () => {
  it('lie where a dried sample says, with its standard deviation', () => {
    // 10 mL of about 0.79 g/mL with 0.2 g of residue: 0.2/(10 × 0.79…) is 2.5 wt%; sd 0.2 wt% as given.
    const ledger = ledgerOf([
      ...LINES,
      '  - {id: "dry01", at: 2026-11-20T09:00:00-04:00, what: reading, bath: dirty, residue: {sample_ml: 10, dry_g: 0.2}, sd: 0.2}',
    ]);
    const { out } = run(['report', '--format', 'html', '--ledger', ledger, '--as-of', NOW]);
    const [reading] = chartsOf(out).get('resin-1')!.readings();
    expect(reading!.id).toBe('dry01');
    expect(reading!.value).toBeGreaterThan(2.45);
    expect(reading!.value).toBeLessThan(2.56);
    expect(reading!.high - reading!.value).toBeCloseTo(0.2, 1);
    expect(reading!.value - reading!.low).toBeCloseTo(0.2, 1);
    expect(chartsOf(out).get('water-1')!.readings()).toEqual([]);
  });
});

const validate = new HtmlValidate({
  extends: ['html-validate:recommended'],
  rules: {
    // Written in lower case here.
    'doctype-style': ['error', { style: 'lowercase' }],
    // The names of a shop and the time of a report take the room they take.
    'long-title': 'off',
    'no-trailing-whitespace': 'off',
  },
});

async function faults(html: string): Promise<string[]> {
  const report = await validate.validateString(html);
  return report.results.flatMap(({ messages }) =>
    messages.map(({ ruleId, message, line }) => `${ruleId}: ${message} (${line})`),
  );
}

describe('the page', () => {
  it('comes without a word beside it', () => {
    expect({ code: shop.code, err: shop.err }).toEqual({ code: 0, err: '' });
  });

  it.each([
    ['of the sample shop', () => shop.html],
    ['of a quiet shop', () => page(ledgerOf())],
    ['of a new shop', () => page(ledgerOf([]))],
    ['of one bath', () => page(ledgerOf([LINES[0]!], HEAD.replace(/ {2}clean: .*\n/, '')))],
  ])('%s is valid', async (_, html) => {
    expect(await faults(html())).toEqual([]);
  });

  it('is held to something: a table without its head is a fault', async () => {
    expect(await faults(shop.html.replace('</thead>', ''))).not.toEqual([]);
  });

  it('holds no script and asks for nothing: a strict policy, no address', () => {
    const document = parse(shop.html);
    const elements = all(document as never, () => true);
    const names = new Set(elements.map(({ tagName }) => tagName));
    for (const name of ['script', 'img', 'iframe', 'object', 'link', 'a', 'form', 'base', 'image', 'use'])
      expect(names).not.toContain(name);
    for (const element of elements)
      for (const { name } of element.attrs) expect(name).not.toMatch(/^on|^style$|href$|^src/);
    const policy = elements.find((one) => attribute(one, 'http-equiv') === 'Content-Security-Policy')!;
    expect(attribute(policy, 'content')).toMatch(/^default-src 'none'; style-src 'sha256-/);
  });

  it('has one name for each thing that is named', () => {
    const ids = all(parse(shop.html) as never, (one) => attribute(one, 'id') !== undefined).map((one) =>
      attribute(one, 'id'),
    );
    expect(new Set(ids).size).toBe(ids.length);
    const named = [...shop.html.matchAll(/(?:aria-(?:labelled|described)by="|url\(#)([^")]+)/g)].flatMap(
      ([, text]) => text!.split(' '),
    );
    for (const name of named) expect(ids).toContain(name);
  });

  it('says in text what the plain page says', () => {
    const words = (text: string) => text.replaceAll(/[\s\u00a0]+/g, ' ').trim();
    const plain = run(['report', '--ledger', shop.path, '--as-of', shop.asOf], {
      env: { COLUMNS: '200' },
    }).out;
    const told = words(textOf(all(parse(shop.html) as never, ({ tagName }) => tagName === 'main')[0]!));
    const lines = plain.split('\n').filter((line) => /^ {2}(- )?\S/.test(line));
    // The table of the baths is laid out anew; lists and facts are word for word the same.
    const facts = lines.filter(
      (line) => !/^ {2}(verdict|resin, wt|water, wt|limits|level|mark|age|washes|\s)/.test(line),
    );
    expect(facts.length).toBeGreaterThan(10);
    for (const line of facts) {
      const text = words(line.replace(/^ {2}(?:- |[a-z ]+? {2,})?/, ''));
      expect(told).toContain(text.slice(0, 60));
    }
  });

  it('is written by the ending of the file', () => {
    const out = join(tempFolder(), 'tonight.html');
    const { code } = run(['report', '--ledger', shop.path, '--as-of', shop.asOf, '--out', out]);
    expect(code).toBe(0);
    expect(readFileSync(out, 'utf8')).toBe(shop.html);
  });

  it('of a shop that logged nothing has no charts, and says what there is', () => {
    const html = page(ledgerOf([]));
    expect(html).not.toContain('data-curve');
    expect(html).toContain('stop (empty)');
  });

  it('of a time gone by ends there, and looks ahead from there', () => {
    const to = '2026-11-06T17:00:00-06:00';
    const args = ['--ledger', shop.path, '--as-of', shop.asOf, '--to', to];
    const html = run(['report', '--format', 'html', ...args]).out;
    expect(html).toMatch(/\) wt% at the end</);
    expect(html).not.toContain('today');
    const chart = chartsOf(html).get('resin-1')!;
    const told = JSON.parse(run(['report', '--json', ...args]).out).data.baths[0].resin_wt_pct.p50;
    for (const end of [chart.curve('best').at(-1)!, chart.curve('best-ahead')[0]!]) {
      expect(Math.abs(end.atMs - Date.parse(to))).toBeLessThan(0.1 * chart.msPerUnit);
      expect(Math.abs(end.value - told)).toBeLessThan(0.06 * chart.valuePerUnit);
    }
  });

  it('of a ledger at odds shows every day all the same', () => {
    const never =
      '  - {id: "never", at: 2026-11-17T12:00:00-04:00, what: drain, bath: dirty, ml: 9000, into: "can-1"}';
    const lines = [...LINES.slice(0, 3), never];
    const [odd, plain] = [lines, LINES.slice(0, 3)].map(
      (all) => run(['report', '--format', 'html', '--ledger', ledgerOf(all), '--as-of', NOW]).out,
    );
    const band = chartsOf(odd!).get('water-1')!.curve('band');
    // Three nights and the end after the drain that cannot have been, to both sides of the band.
    const drainMs = Date.parse('2026-11-17T12:00:00-04:00');
    expect(band.filter(({ atMs }) => atMs > drainMs)).toHaveLength(2 * 4);
    expect(band.length).toBe(chartsOf(plain!).get('water-1')!.curve('band').length);
  });

  it('of a ledger at odds foresees nothing', () => {
    const early = '  - {id: "early", at: 2026-11-15T08:00:00-04:00, what: wash, parts: {model: 1}}';
    const ran = run(['report', '--format', 'html', '--ledger', ledgerOf([early, ...LINES]), '--as-of', NOW]);
    expect(ran.code).toBe(65);
    expect(ran.out).toContain('not judged');
    expect(chartsOf(ran.out).get('resin-1')!.curve('best').length).toBeGreaterThan(2);
    expect(chartsOf(ran.out).get('resin-1')!.curve('best-ahead')).toEqual([]);
  });

  it('of a new shop looks back to its first day only', () => {
    expect(page(ledgerOf())).toContain('Over time, since Mon 2026-11-16');
    expect(shop.html).toMatch(/Over time, since Mon 2026-10-12/);
  });
});

function page(ledger: string): string {
  return run(['report', '--format', 'html', '--ledger', ledger, '--as-of', NOW]).out;
}

describe('a long ledger', () => {
  it('makes a page of the size of a short one, and keeps a peak that stood for a minute', () => {
    const startMs = Date.parse('2026-09-14T12:00:00Z');
    const time = (minute: number) => rfc3339(startMs + minute * 60_000);
    const washes = Array.from(
      { length: 2500 },
      (_, nth) =>
        `  - {id: "e${nth}", at: ${time(60 + 31 * nth)}, what: ${nth % 60 === 59 ? 'rotate, solvent: ipa99' : 'wash, parts: {model: 2}'}}`,
    );
    const peak = time(60 + 31 * 1500 + 3);
    const short = [
      `  - {id: "peak1", at: ${peak}, what: wash, parts: {model: 1}, carry_g: 300, baths: ["dirty"], minutes: [60]}`,
      `  - {id: "peak2", at: ${time(60 + 31 * 1500 + 4)}, what: refill, bath: dirty, solvent: ipa99}`,
    ];
    const fills = ['dirty', 'clean'].map(
      (bath) => `  - {id: "${bath}", at: ${time(0)}, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000}`,
    );
    const path = ledgerOf([...fills, ...washes, ...short]);
    const made = { lastAt: time(60 + 31 * 2500) };
    const html = run(['report', '--format', 'html', '--ledger', path, '--as-of', made.lastAt]).out;
    expect(html.length).toBeLessThan(400_000);
    const chart = chartsOf(html).get('resin-1')!;
    const baths = JSON.parse(run(['baths', '--json', '--ledger', path, '--as-of', peak]).out).data.baths;
    const drawn = chart.curve('best').map(({ value }) => value);
    expect(drawn.length).toBeLessThan(2200);
    expect(baths[0].resin_wt_pct.p50).toBeGreaterThan(7);
    expect(Math.abs(Math.max(...drawn) - baths[0].resin_wt_pct.p50)).toBeLessThan(0.06 * chart.valuePerUnit);
  });
});
