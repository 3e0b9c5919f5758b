/**
 * A month of nights over the sample shop. The golden text is there to be read from first day to last; the rest holds the
 * nights to the ledger itself, read here by another parser, and to sums that no night knows of.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { bundled, runner, tempFolder } from '../commands/bundle.ts';
import { type Night, nightsOf, shopEvents, transcriptOf } from './month.ts';

const FIRST = '2026-10-22';
const NIGHTS = 30;
const DAY_MS = 86_400_000;
const GOLDEN = 'tests/transcripts/month.golden.txt';

const main = bundled();
const folder = tempFolder();
const events = shopEvents();
const nights = nightsOf(main, folder, FIRST, NIGHTS);
/** Each night with the one before it. */
const pairs = nights.slice(1).map((night, place) => [nights[place]!, night] as const);
const startMs = nights[0]!.clockMs - DAY_MS;
const endMs = nights.at(-1)!.clockMs;

const voided = new Set(events.flatMap(({ what, of }) => (what === 'void' ? [of!] : [])));
const counting = events.filter(({ id }) => !voided.has(id));
/** Counting events that happened after one moment, up to another. */
const between = (fromMs: number, toMs: number, ...kinds: string[]) =>
  counting.filter(({ atMs, what }) => atMs > fromMs && atMs <= toMs && kinds.includes(what));
const sum = <Item>(list: readonly Item[], of: (item: Item) => number) =>
  list.reduce((all, one) => all + of(one), 0);
const told = ({ data }: Night, ...kinds: string[]) => data.due.filter(({ what }) => kinds.includes(what));

describe('the transcript', () => {
  it('reads as it did', () => {
    const text = transcriptOf(nights, folder);
    if (process.env.UPDATE) writeFileSync(GOLDEN, text);
    expect(existsSync(GOLDEN)).toBe(true);
    expect(text).toBe(readFileSync(GOLDEN, 'utf8'));
  });

  it('is quiet beside the answers, and every report ends well', () => {
    expect(nights.map(({ due, report }) => due.err + report.err).join('')).toBe('');
    expect(nights.every(({ report }) => report.code === 0)).toBe(true);
  });

  it('fits 80 columns in every report', () => {
    const wide = nights.flatMap(({ report }) => report.out.split('\n').filter((line) => line.length > 80));
    expect(wide.filter((line) => !line.startsWith('ledger: '))).toEqual([]);
  });
});

describe('each night', () => {
  it('goes on where the last one ended, through the night on which the clocks change', () => {
    for (const [before, { data }] of pairs) {
      expect(data.period.why).toBe('since-last-report');
      expect(Date.parse(data.period.from)).toBe(before.clockMs);
    }
    const hours = pairs.map(([before, night]) => (night.clockMs - before.clockMs) / 3_600_000);
    expect(hours.filter((one) => one !== 24)).toEqual([25]);
  });

  it('has the exit status of its worst matter, and says the same in both', () => {
    const codes = { soon: 1, change: 2, stop: 2 };
    for (const { due, data, report } of nights) {
      expect(due.code).toBe(Math.max(0, ...data.due.map(({ severity }) => codes[severity])));
      const lines = due.out.split('\n').filter((line) => /^(?:soon|change|stop washing): /.test(line));
      expect(lines).toEqual(data.due.map(({ text }) => text));
      const page = report.out.replaceAll(/\s+/g, ' ');
      for (const line of lines) expect(page).toContain(line);
      expect(due.out === '').toBe(data.due.length === 0);
    }
  });

  it('says no matter twice, and no longer line twice', () => {
    for (const { data, report } of nights) {
      expect(new Set(data.due.map(({ key }) => key)).size).toBe(data.due.length);
      const items = report.out.split('\n').filter((line) => line.startsWith('  - '));
      expect(new Set(items).size).toBe(items.length);
    }
  });

  it('finds nothing odd in a sound ledger', () => {
    for (const { data } of nights)
      expect(data.odd).toEqual({ warnings: [], more_warnings: 0, refused: [], later: 0, flagged: [] });
  });
});

describe('no matter is told that the ledger contradicts', () => {
  /** Poured at least: fills, and rotations by what the clean bath takes; top-ups to the mark come on top. */
  const leastPouredMl = (toMs: number) =>
    sum(between(0, toMs, 'fill'), ({ ml = 0 }) => ml) + 2500 * between(0, toMs, 'rotate').length;

  it('silence only where nothing was logged for five working days, which never was', () => {
    for (const night of nights) expect(told(night, 'stale')).toEqual([]);
    const times = counting.map(({ atMs }) => atMs).sort((one, other) => one - other);
    expect(Math.max(...times.slice(1).map((ms, place) => ms - times[place]!))).toBeLessThan(5 * DAY_MS);
  });

  it('an old reading only after 28 days without one, which never were', () => {
    for (const night of nights) {
      const last = between(0, night.clockMs, 'reading', 'weighed').at(-1)!;
      expect(night.clockMs - last.atMs).toBeLessThan(28 * DAY_MS);
      expect(told(night, 'reading')).toEqual([]);
    }
  });

  it('old solvent only where it stands for 28 days in the clean bath or 56 in both', () => {
    const first = between(0, endMs, 'fill')[0]!;
    expect(endMs - first.atMs).toBeLessThan(53 * DAY_MS);
    for (const night of nights) {
      const poured = between(0, night.clockMs, 'fill', 'rotate').at(-1)!;
      expect(night.clockMs - poured.atMs).toBeLessThan(25 * DAY_MS);
      expect(told(night, 'age')).toEqual([]);
    }
  });

  it('an order only where less than two changes are on hand, and not once it has come', () => {
    const ordered = nights.filter((night) => told(night, 'stock').length > 0);
    expect(ordered.length).toBeGreaterThan(0);
    for (const { clockMs } of ordered) {
      const received = sum(between(0, clockMs, 'stock'), ({ received_ml: ml = 0 }) => ml);
      expect(received - leastPouredMl(clockMs)).toBeLessThan(2 * 2500);
    }
    const came = between(startMs, endMs, 'stock').find(({ received_ml: ml }) => ml)!;
    for (const night of nights.filter(({ clockMs }) => clockMs >= came.atMs))
      expect(told(night, 'stock')).toEqual([]);
  });

  it('a full container only where more than 8 of its 10 litres came in, which never did', () => {
    for (const night of nights) {
      const emptied = between(0, night.clockMs, 'waste')
        .filter(({ action }) => action === 'collected')
        .at(-1);
      const drained = 2500 * between(emptied?.atMs ?? 0, night.clockMs, 'rotate').length;
      expect(drained).toBeLessThan(8000);
      expect(told(night, 'waste')).toEqual([]);
    }
  });

  it('a low bath only where nobody topped it up that day', () => {
    const low = nights.flatMap((night) => told(night, 'level').map(({ bath }) => ({ bath, night })));
    expect(low.length).toBeGreaterThan(0);
    for (const { bath, night } of low)
      expect(
        between(night.clockMs - DAY_MS, night.clockMs, 'top-up').filter((one) => one.bath === bath),
      ).toEqual([]);
  });

  it('a change ends the matters of both baths that night', () => {
    const changes = between(startMs, endMs, 'rotate');
    expect(changes).toHaveLength(2);
    for (const { atMs } of changes) {
      const place = nights.findIndex(({ clockMs }) => clockMs >= atMs);
      const about = (night: Night) => told(night, 'limit', 'doubt', 'ahead', 'age', 'level');
      expect(about(nights[place - 1]!).length).toBeGreaterThan(0);
      expect(about(nights[place]!)).toEqual([]);
    }
  });

  it('and a bath told as past its limit stays told until a change, a reading or a top-up', () => {
    for (const [before, night] of pairs) {
      const touched = between(before.clockMs, night.clockMs, 'rotate', 'reading', 'weighed', 'top-up');
      const ongoing = told(before, 'limit').map(({ key }) => key);
      if (touched.length === 0)
        expect(night.data.due.map(({ key }) => key)).toEqual(expect.arrayContaining(ongoing));
    }
  });
});

describe('the days left', () => {
  const fall = ([before, night]: (typeof pairs)[number]) =>
    before.data.outlook.days_left.p50 - night.data.outlook.days_left.p50;

  it('fall by a day on a day on which nothing happens', () => {
    const quiet = pairs.filter(
      ([before, night]) => !counting.some(({ atMs }) => atMs > before.clockMs && atMs <= night.clockMs),
    );
    // Saturdays and Sundays.
    expect(quiet.length).toBe(8);
    for (const pair of quiet) expect(fall(pair)).toBeCloseTo((pair[1].clockMs - pair[0].clockMs) / DAY_MS, 0);
  });

  it('fall by about the days that pass between changes', () => {
    const stretches: (typeof pairs)[number][][] = [[]];
    for (const pair of pairs) {
      if (between(pair[0].clockMs, pair[1].clockMs, 'rotate').length > 0) stretches.push([]);
      else stretches.at(-1)!.push(pair);
    }
    expect(stretches.map(({ length }) => length)).toEqual([4, 13, 10]);
    // What a shop washes differs from its own mean by a third in a week.
    for (const stretch of stretches) {
      const share = sum(stretch, fall) / stretch.length;
      expect(share).toBeGreaterThan(2 / 3);
      expect(share).toBeLessThan(4 / 3);
      for (const pair of stretch) expect(fall(pair)).toBeGreaterThan(-1);
    }
  });
});

describe('all nights together', () => {
  const washes = between(startMs, endMs, 'wash');

  it('hold every wash and part of the month once, with those logged afterwards', () => {
    const late = nights.flatMap(({ data }) => data.late.filter(({ counted }) => !counted));
    const lateOnes = washes.filter(({ id }) => late.some(({ event }) => event.id === id));
    expect(lateOnes.map(({ id }) => id)).toEqual(['t32vx']);
    expect(sum(nights, ({ data }) => data.washes.loads)).toBe(washes.length - 1);
    const parts = (list: typeof washes) =>
      sum(list, ({ parts: kinds = {} }) => sum(Object.values(kinds), (one) => one));
    expect(sum(nights, ({ data }) => data.washes.parts)).toBe(parts(washes) - parts(lateOnes));
    for (const who of ['JT', 'MO']) {
      const own = washes.filter(({ by, id }) => by === who && id !== 't32vx').length;
      const loads = (night: Night) => night.data.washes.by.find(({ by }) => by === who)?.loads ?? 0;
      expect(sum(nights, loads)).toBe(own);
    }
  });

  it('hold every change, reading and correction once', () => {
    const changes = between(startMs, endMs, 'top-up', 'rotate').map(({ what }) => what);
    expect(nights.flatMap(({ data }) => data.changes.map(({ what }) => what)).sort()).toEqual(changes.sort());
    const readings = between(startMs, endMs, 'reading', 'weighed');
    expect(sum(nights, ({ data }) => data.readings.length)).toBe(readings.length);
    const corrections = events.filter(
      ({ what, atMs }) => (what === 'void' || what === 'amend') && atMs > startMs && atMs <= endMs,
    );
    expect(nights.flatMap(({ data }) => data.corrections.map(({ event }) => event.id))).toEqual(
      corrections.map(({ id }) => id),
    );
  });

  it('pour what the stock goes down by', () => {
    const counted = between(startMs, endMs, 'stock').find(({ received_ml: ml }) => ml === undefined)!;
    const until = nights.filter(({ clockMs }) => clockMs < counted.atMs);
    const [first, last] = [until[0]!, until.at(-1)!];
    const onHand = ({ data }: Night) => data.stock[0]!.on_hand_ml;
    const received = sum(between(first.clockMs, last.clockMs, 'stock'), ({ received_ml: ml = 0 }) => ml);
    const poured = sum(until.slice(1), ({ data }) => sum(data.changes, (one) => one.poured_ml));
    expect(poured).toBeCloseTo(onHand(first) + received - onHand(last), 3);
    // Two rotations fill the clean bath to its mark of 2.5 L, and make up what the dirty one lacks.
    const rotated = sum(nights, ({ data }) =>
      sum(data.changes, (one) => (one.what === 'rotate' ? one.poured_ml : 0)),
    );
    expect(rotated).toBeGreaterThanOrEqual(2 * 2500 - 1e-6);
    expect(rotated).toBeLessThan(2 * 2750);
  });

  it('drain what the months say, to within the readings since', () => {
    const october = nights.filter(({ date }) => date < '2026-11-01');
    for (const month of [october, nights.filter(({ date }) => date >= '2026-11-01')]) {
      const drained = sum(month, ({ data }) => sum(data.changes, (one) => one.waste_ml)) / 1000;
      expect(month.at(-1)!.data.waste.litres / drained).toBeCloseTo(1, 2);
    }
  });

  it('agree with one report on the whole month', () => {
    const run = runner(main);
    const args = [
      '--from',
      new Date(startMs).toISOString().replace('.000Z', 'Z'),
      '--as-of',
      '2026-11-20 18:30',
    ];
    const { data } = JSON.parse(run(['report', '--json', '--ledger', 'data/demo.yaml', ...args]).out);
    expect(data.washes.loads).toBe(washes.length);
    const poured = (list: Night['data']['changes']) => sum(list, (one) => one.poured_ml);
    // Top-ups to the mark were worked out again with the readings since.
    expect(sum(nights, (night) => poured(night.data.changes)) / poured(data.changes)).toBeCloseTo(1, 2);
  });
});
