import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Quantity } from '../../src/outlook/quantity.ts';
import type { Moment } from '../../src/outlook/trail.ts';
import { type ChartView, chartText } from '../../src/render/chart.ts';
import { painter } from '../../src/render/paint.ts';

const DAY = 86_400_000;
/** Monday, at noon. */
const NOW = Date.UTC(2026, 10, 16, 12);
const plain = painter({ choice: 'never', env: {}, stream: {} });

/** Days in words, in UTC. */
function day(ms: number): string {
  const name = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'][new Date(ms).getUTCDay()];
  return `${name} ${new Date(ms).toISOString().slice(0, 10)}`;
}

/** One bath: where it starts and what each day adds, as shares of its limit; so many days back; the band as shares of it. */
interface Course {
  limit: number;
  start: number;
  perDay: number[];
  back: number;
  low: number;
  high: number;
}

function viewOf(course: Course, more: Partial<ChartView> = {}): ChartView {
  const { limit, back, start, perDay, low, high } = course;
  const valueAt = (step: number): Quantity => {
    const p50 = limit * perDay.slice(0, step).reduce((sum, one) => sum + one, start);
    return { p05: p50 * low, p50, p95: p50 * high };
  };
  const midnight = Math.floor(NOW / DAY) * DAY;
  const past: Moment[] = Array.from({ length: back }, (_, at) => ({
    atMs: midnight - (back - 1 - at) * DAY,
    resinWtPct: [valueAt(at)],
  }));
  const rest = perDay.length - back;
  const ahead: Moment[] = [
    { atMs: NOW, resinWtPct: [valueAt(back)] },
    ...Array.from({ length: rest }, (_, at) => ({
      atMs: midnight + (at + 1) * DAY,
      resinWtPct: [valueAt(back + 1 + at)],
    })),
  ];
  const tub = { name: 'dirty', limits: { resin: [limit * 0.8, limit, limit * 2] } };
  return {
    shop: { tubs: [tub] } as unknown as ChartView['shop'],
    past,
    ahead,
    day,
    width: 80,
    paint: plain,
    ascii: false,
    ...more,
  };
}

const SIGNS = {
  unicode: { best: '•', band: '░', limit: '╌', both: '▒', today: '┊' },
  ascii: { best: 'o', band: ':', limit: '-', both: '=', today: '|' },
};

/** Everything that can be read from the drawing of one bath; nothing else is looked at. */
function read(text: string, limit: number, signs = SIGNS.unicode) {
  const lines = text.split('\n');
  const rule = lines.findIndex((line) => /^ {6}[─┴_|]{20,}$/.test(line));
  const columns = lines[rule]!.length - 6;
  const rows = lines.slice(1, rule).reverse();
  const cells = rows.map((line) => line.slice(6).padEnd(columns));
  const labels = rows.map((line) => line.slice(0, 6).trim());
  const limitRow = labels.indexOf(String(limit));
  const step = limit / limitRow;
  const column = (at: number) => {
    const own = cells.map((row) => row[at]!);
    const filled = own.flatMap((sign, row) =>
      [signs.best, signs.band, signs.both].includes(sign) ? [row] : [],
    );
    return { best: own.flatMap((sign, row) => (sign === signs.best ? [row] : [])), filled };
  };
  const dates = lines[rule + 1]!.slice(6);
  return { columns, rows, cells, labels, limitRow, step, column, dates, rule: lines[rule]!.slice(6) };
}

/** The value between two moments along a straight line. */
function between(view: ChartView, ms: number, key: keyof Quantity): number {
  const all = [...view.past, ...view.ahead].map(
    ({ atMs, resinWtPct }) => [atMs, resinWtPct[0]![key]!] as const,
  );
  const after = all.findIndex(([atMs]) => atMs >= ms);
  const [to, from] = [all[after]!, all[after - 1] ?? all[after]!];
  return to[0] === from[0] ? to[1] : from[1] + ((ms - from[0]) / (to[0] - from[0])) * (to[1] - from[1]);
}

const course = fc.record({
  limit: fc.constantFrom(1, 2, 5, 10, 12.5),
  start: fc.double({ min: 0, max: 1, noNaN: true }),
  back: fc.integer({ min: 1, max: 12 }),
  low: fc.double({ min: 0.3, max: 1, noNaN: true }),
  high: fc.double({ min: 1, max: 4, noNaN: true }),
  perDay: fc.array(fc.double({ min: 0, max: 0.14, noNaN: true }), { minLength: 14, maxLength: 40 }),
});

describe('a drawn bath', () => {
  it('reads back within half a row, at every column', () => {
    fc.assert(
      fc.property(course, fc.constantFrom(60, 72, 80, 132, 200), fc.boolean(), (given, width, ascii) => {
        const view = viewOf(given, { width, ascii });
        const signs = ascii ? SIGNS.ascii : SIGNS.unicode;
        const { column, columns, step, rows, rule, dates } = read(chartText(view), given.limit, signs);
        const [firstMs, lastMs] = [view.past[0]!.atMs, view.ahead.at(-1)!.atMs];
        const today = Math.floor(((NOW - firstMs) / (lastMs - firstMs)) * columns);
        // The word stands in the middle under its tick, and within the frame.
        expect(/[┴|]/.test(rule[today]!)).toBe(true);
        const word = dates.indexOf('today');
        expect(today).toBeGreaterThanOrEqual(word);
        expect(today).toBeLessThan(word + 5);
        // Epoch milliseconds tell a moment to a few ten-millionths of a second.
        const near = step / 2 + 1e-6;
        const top = (rows.length - 1) * step;
        for (let at = 0; at < columns; at += 1) {
          const ms = at === today ? NOW : firstMs + ((at + 0.5) / columns) * (lastMs - firstMs);
          const { best, filled } = column(at);
          expect(best).toHaveLength(1);
          const [p05, p50, p95] = (['p05', 'p50', 'p95'] as const).map((key) => between(view, ms, key));
          expect(Math.abs(best[0]! * step - p50!)).toBeLessThanOrEqual(near);
          expect(Math.abs(filled[0]! * step - p05!)).toBeLessThanOrEqual(near);
          // A band that reaches beyond the top is cut there.
          expect(Math.abs(filled.at(-1)! * step - Math.min(p95!, top))).toBeLessThanOrEqual(near);
          expect(filled).toHaveLength(filled.at(-1)! - filled[0]! + 1);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('has its limit as a line from end to end, in the row of that number', () => {
    fc.assert(
      fc.property(course, fc.boolean(), (given, ascii) => {
        const signs = ascii ? SIGNS.ascii : SIGNS.unicode;
        const { cells, limitRow } = read(chartText(viewOf(given, { ascii })), given.limit, signs);
        // It gives way to the best estimate alone.
        for (const sign of cells[limitRow]!) expect([signs.limit, signs.both, signs.best]).toContain(sign);
        cells.forEach((row, at) => {
          if (at !== limitRow) expect(row.includes(signs.limit) || row.includes(signs.both)).toBe(false);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('far beyond its limit is drawn, too', () => {
    const given = { limit: 2, start: 5, perDay: Array(20).fill(1), back: 8, low: 1, high: 1 };
    const view = viewOf(given);
    const { column, columns, labels, rows } = read(chartText(view), 2);
    const step = Number(labels.at(-1)) / (rows.length - 1);
    expect(column(columns - 1).best).toEqual([rows.length - 1]);
    expect(column(0).best[0]! * step).toBeGreaterThan(10 - step);
    expect(column(0).best[0]! * step).toBeLessThan(10 + step);
  });

  it('meets the limit in the column of the day it does', () => {
    // 0.4 a day from 0 at the first midnight: 4 after ten days.
    const given = { limit: 4, start: 0, perDay: Array(16).fill(0.1), back: 4, low: 1, high: 1 };
    const view = viewOf(given, { width: 132 });
    const { column, columns, limitRow } = read(chartText(view), 4);
    const at = Array.from({ length: columns }, (_, one) => one).filter(
      (one) => column(one).best[0] === limitRow,
    );
    const [firstMs, lastMs] = [view.past[0]!.atMs, view.ahead.at(-1)!.atMs];
    const met = [...view.past, ...view.ahead].find(({ resinWtPct }) => resinWtPct[0]!.p50 >= 4 - 1e-9)!.atMs;
    const expected = ((met - firstMs) / (lastMs - firstMs)) * columns;
    expect(at[0]!).toBeLessThanOrEqual(expected);
    expect(at.at(-1)!).toBeGreaterThanOrEqual(expected - 1);
  });
});

describe('the page', () => {
  const given = { limit: 10, start: 0.1, perDay: Array(30).fill(0.04), back: 9, low: 0.8, high: 1.4 };

  it('fits its width, and holds at most twelve lines for a bath', () => {
    for (let width = 60; width <= 200; width += 7) {
      const lines = chartText(viewOf(given, { width })).split('\n');
      expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(width);
      expect(lines.indexOf('')).toBeLessThanOrEqual(12);
    }
  });

  it('is all ASCII where only that can be shown', () => {
    expect(chartText(viewOf(given, { ascii: true }))).toMatch(/^[\x20-\x7e\n]+$/);
    expect(chartText(viewOf(given))).toContain('░');
  });

  it('says with colour what it says without', () => {
    const paint = painter({ choice: 'always', env: {}, stream: {} });
    const coloured = chartText(viewOf(given, { paint }));
    expect(coloured).toContain('\u001b[');
    const codes = new RegExp(`${String.fromCharCode(27)}\\[\\d+m`, 'g');
    const bare = (text: string) => text.replaceAll(codes, '').replaceAll(/ +$/gm, '');
    expect(bare(coloured)).toBe(bare(chartText(viewOf(given))));
  });

  it('explains each sign that it uses', () => {
    const text = chartText(viewOf({ ...given, high: 3 }));
    const legend = text.split('\n').at(-1)!;
    for (const sign of ['•', '░', '╌', '┊']) expect(legend).toContain(sign);
  });

  it('has a chart for each bath that holds solvent, and none without', () => {
    const view = viewOf(given);
    const two = (one: Moment): Moment => ({
      ...one,
      resinWtPct: [one.resinWtPct[0]!, null, one.resinWtPct[0]!],
    });
    const [tub] = view.shop.tubs;
    const shop = { tubs: [tub!, { ...tub!, name: 'spare' }, { ...tub!, name: 'clean' }] };
    const three = chartText({ ...view, shop, past: view.past.map(two), ahead: view.ahead.map(two) });
    expect(three.match(/^\w+ bath/gm)).toEqual(['dirty bath', 'clean bath']);
    const empty = (one: Moment): Moment => ({ ...one, resinWtPct: [null] });
    expect(chartText({ ...view, past: view.past.map(empty), ahead: view.ahead.map(empty) })).toBe('');
  });

  it('leaves a bath blank before its own last change', () => {
    const view = viewOf(given);
    const late: ChartView = {
      ...view,
      shop: { tubs: [view.shop.tubs[0]!, { ...view.shop.tubs[0]!, name: 'clean' }] },
      past: view.past.map(({ atMs, resinWtPct: [value] }, at) => ({
        atMs,
        resinWtPct: [value!, at < 4 ? null : value!],
      })),
      ahead: view.ahead.map(({ atMs, resinWtPct: [value] }) => ({ atMs, resinWtPct: [value!, value!] })),
    };
    const [, clean] = chartText(late).split('\n\n');
    const { column, columns } = read(clean!, 10);
    const filled = Array.from({ length: columns }, (_, at) => column(at).filled.length > 0);
    const first = filled.indexOf(true);
    const [firstMs, lastMs] = [late.past[0]!.atMs, late.ahead.at(-1)!.atMs];
    expect(first).toBe(Math.ceil(((late.past[4]!.atMs - firstMs) / (lastMs - firstMs)) * columns - 0.5));
    expect(filled.slice(first).every(Boolean)).toBe(true);
  });
});
