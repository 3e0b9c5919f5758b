import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import type { Days } from '../../src/outlook/pace.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { SeriesKept } from '../../src/records/series.ts';
import { binAt, binsOf } from '../../src/records/series-bins.ts';
import { lookPlan } from '../../src/records/series-plan.ts';
import { readingPoints } from '../../src/records/series-readings.ts';
import { Thinned } from '../../src/records/series-thin.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, START_MS } from '../bath/bench.ts';

const DAY = 86_400_000;
const HOUR = 3_600_000;

describe('a thinned curve', () => {
  const points = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 999 }), fc.double({ min: 0, max: 20, noNaN: true })), {
      minLength: 1,
      maxLength: 300,
    })
    .map((list) => list.map(([atMs, value]) => ({ atMs, value })).sort((a, b) => a.atMs - b.atMs));

  it('keeps the first, the lowest, the highest and the last of every column, and nothing that was not there', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: 1, max: 40 }), (all, columns) => {
        const thinned = new Thinned({ fromMs: 0, toMs: 1000 }, columns);
        for (const { atMs, value } of all) thinned.add(atMs, value);
        const kept = thinned.points();
        expect(kept.map(({ atMs }) => atMs)).toEqual(kept.map(({ atMs }) => atMs).sort((a, b) => a - b));
        for (const point of kept) expect(all).toContainEqual(point);
        for (let column = 0; column < columns; column += 1) {
          const isIn = ({ atMs }: { atMs: number }) => Math.floor((atMs * columns) / 1000) === column;
          const [before, after] = [all.filter(isIn), kept.filter(isIn)];
          if (before.length === 0) continue;
          const values = before.map(({ value }) => value);
          const left = after.map(({ value }) => value!);
          expect(after.length).toBeLessThanOrEqual(4);
          expect([left[0], left.at(-1)]).toEqual([values[0], values.at(-1)]);
          expect([Math.min(...left), Math.max(...left)]).toEqual([Math.min(...values), Math.max(...values)]);
        }
      }),
    );
  });

  it('breaks where there is nothing, and not for a gap narrower than a column', () => {
    const thinned = new Thinned({ fromMs: 0, toMs: 100 }, 10);
    for (const [atMs, value] of [
      [1, 5],
      [2, null],
      [3, 6],
      [12, 7],
      [14, null],
      [55, 8],
    ] as const)
      thinned.add(atMs, value);
    expect(thinned.points().map(({ value }) => value)).toEqual([5, 6, 7, null, 8]);
  });
});

/** The calendar of a shop in UTC. */
const DAYS: Days = {
  startOf: (ms) => Math.floor(ms / DAY) * DAY,
  next: (startMs) => startMs + DAY,
  weekday: (ms) => new Date(ms).getUTCDay(),
};
const monthStartOf = (ms: number) => Date.UTC(new Date(ms).getUTCFullYear(), new Date(ms).getUTCMonth());

describe('days, weeks, months and years', () => {
  it('follow each other over the window, few enough to be told apart', () => {
    const span = fc.record({
      fromMs: fc.integer({ min: 0, max: 40_000 * DAY }),
      days: fc.oneof(fc.integer({ min: 1, max: 5000 }), fc.integer({ min: 1, max: 73_000 })),
    });
    fc.assert(
      fc.property(span, ({ fromMs, days }) => {
        const toMs = fromMs + days * DAY;
        const { kind, bins } = binsOf({ fromMs, toMs }, { days: DAYS, monthStartOf });
        expect(bins[0]!.startMs).toBe(DAYS.startOf(fromMs));
        expect(bins.at(-1)!.endMs).toBeGreaterThanOrEqual(toMs);
        expect(bins.at(-1)!.startMs).toBeLessThan(toMs);
        bins.slice(1).forEach(({ startMs }, place) => {
          expect(startMs).toBe(bins[place]!.endMs);
          if (kind === 'week') expect(DAYS.weekday(startMs)).toBe(1);
          if (kind === 'month' || kind === 'year') expect(new Date(startMs).getUTCDate()).toBe(1);
          if (kind === 'year' && place > 0)
            expect(new Date(startMs).getUTCMonth()).toBe(new Date(bins[1]!.startMs).getUTCMonth());
        });
        expect(bins.length).toBeLessThan({ day: 95, week: 95, month: 243, year: 202 }[kind]);
        if (days <= 5000) expect(bins.length).toBeLessThan(167);
        const ms = fromMs + (toMs - fromMs) / 3;
        const bin = bins[binAt(bins, ms)]!;
        expect(bin.startMs <= ms && ms < bin.endMs).toBe(true);
        expect(binAt(bins, bins[0]!.startMs - 1)).toBe(-1);
        expect(binAt(bins, bins.at(-1)!.endMs)).toBe(-1);
      }),
    );
  });
});

const wash = (hour: number): Draft => ({ what: 'wash', parts: { model: 4 }, hour }) as Draft;
const LIVELY: Draft[] = [
  ...FILLED,
  wash(2),
  wash(30),
  { what: 'rotate', hour: 50 },
  wash(51),
  { what: 'inspect', result: 'ok', hour: 77 },
  wash(80),
  { what: 'reading', bath: 'dirty', density_g_ml: 0.795, temp_c: 22, hour: 103 },
  wash(104),
  { what: 'top-up', bath: 'clean', to: 'mark', hour: 150 },
  { what: 'refill', bath: 'clean', hour: 177 },
  wash(180),
  wash(202),
] as Draft[];
const SHOP = openShop(headerOf({ dirty: OPEN, clean: OPEN }));

function keptOf(drafts: readonly Draft[], window: { fromMs: number; toMs: number }) {
  const entries = entriesOf(drafts);
  const { bins } = binsOf(window, { days: DAYS, monthStartOf });
  const kept = new SeriesKept(SHOP, { window, entries, bins, moments: bins.map(({ endMs }) => endMs) });
  const status = statusOf(SHOP, entries, window.toMs, { watch: (step, belief) => kept.watch(step, belief) });
  return { entries, status, series: kept.series(status.estimates) };
}

describe('the series of a shop', () => {
  const window = { fromMs: START_MS + 24 * HOUR, toMs: START_MS + 250 * HOUR };
  const { entries, series, status } = keptOf(LIVELY, window);

  it('has every moment as a ledger looked at then tells it', () => {
    const [dirty, clean] = series.baths;
    expect(dirty!.looked.length).toBeGreaterThan(15);
    let checked = 0;
    for (const [place, { looked }] of [dirty!, clean!].entries())
      looked.forEach(({ atMs, banded }, nth) => {
        // Right before an event at the same time the ledger cannot be looked at.
        if (looked[nth + 1]?.atMs === atMs) return;
        const upTo = entries.filter((entry) => entry.atMs <= atMs);
        const told = statusOf(SHOP, upTo, atMs).estimates[place]!;
        checked += 1;
        for (const end of ['p05', 'p50', 'p95'] as const) {
          // The band of the estimates takes a step of a hundredth where this one takes the slope.
          expect(banded!.resin[end]).toBeCloseTo(told.resinWtPct![end]!, 2);
          expect(banded!.water[end]).toBeCloseTo(told.waterWtPct![end]!, 4);
        }
      });
    expect(checked).toBeGreaterThan(30);
  });

  it('does not change what is estimated by looking', () => {
    const plain = statusOf(SHOP, entries, window.toMs);
    expect(status.estimates).toEqual(plain.estimates);
  });

  it('holds what lies in the window, and counts it', () => {
    const times = series.baths.flatMap(({ best }) => [...best.resin, ...best.water].map(({ atMs }) => atMs));
    expect(Math.min(...times)).toBe(window.fromMs);
    expect(Math.max(...times)).toBe(window.toMs);
    expect(series.turns.map(({ what, baths }) => [what, baths])).toEqual([
      ['rotate', [0, 1]],
      ['top-up', [1]],
      ['refill', [1]],
    ]);
    const loads = series.loads.bins.reduce((sum, one) => sum + one.loads, 0);
    expect(loads).toBe(LIVELY.filter(({ what, hour = 0 }) => what === 'wash' && hour > 24).length);
  });

  it('names the loads whose parts looked wrong', () => {
    const drafts = [...LIVELY, { what: 'inspect', result: 'sticky', wash: 'e3', hour: 60 }] as Draft[];
    const marked = entriesOf(drafts);
    const target = marked.find(({ event, atMs }) => event.what === 'wash' && atMs > window.fromMs)!.event.id;
    const named = drafts.map((one) => ('wash' in one ? { ...one, wash: target } : one)) as Draft[];
    const { blemished } = keptOf(named, window).series.loads;
    expect(blemished.map(({ results }) => results)).toEqual([['sticky']]);
    expect(blemished[0]!.residue).toBeGreaterThan(0);
  });

  /** With loads of so many parts that a hydrometer sees how little is known of what they bring. */
  const pointsOf = (...more: Draft[]) => {
    const laden = Array.from(
      { length: 6 },
      (_, nth) => ({ ...wash(90 + nth), parts: { model: 60 } }) as Draft,
    );
    const drafts = [...LIVELY, ...laden, ...more].map((one) => ({ hour: 0, ...one }));
    const kept = keptOf(
      drafts.sort((one, other) => one.hour - other.hour),
      window,
    );
    const looked = kept.series.baths.map((bath) => bath.looked);
    return readingPoints(kept.status.belief.compared, window, looked);
  };

  it('has a density as resin where nobody knows how much resin came in', () => {
    const points = pointsOf();
    expect(points.map(({ of, isDensity }) => [of, isDensity])).toEqual([['resin', true]]);
    const { low, value, high } = points[0]!;
    // 0.795 g/mL against 0.786 of fresh solvent: a wt% of resin is worth 0.0023 g/mL or so, README.md of the room `belief`.
    expect(value).toBeGreaterThan(2.5);
    expect(value).toBeLessThan(5);
    // A hydrometer of 0.001 g/mL is worth 0.4 wt% of resin, and the doubt of the water comes on top.
    expect(high - value).toBeGreaterThan(0.4);
    expect(value - low).toBeGreaterThan(0.4);
    expect(high - value).toBeLessThan(1);
  });

  it('has a density as water in solvent that has washed nothing', () => {
    const fresh: Draft = { what: 'reading', bath: 'clean', density_g_ml: 0.79, temp_c: 22, hour: 178 };
    const points = pointsOf(fresh);
    expect(points.map(({ bath, of }) => [bath, of])).toEqual([
      [0, 'resin'],
      [1, 'water'],
    ]);
    // ICT1928 in data/: 99.5 wt% has 0.7865 g/mL at 20 °C, a wt% of water is worth 0.0024, 2 K less 0.0017: 0.5 + 2.2 wt%.
    expect(points[1]!.value).toBeCloseTo(2.7, 0);
  });

  it('has a dried residue as resin however well that is known', () => {
    const dried: Draft = {
      what: 'reading',
      bath: 'clean',
      residue: { sample_ml: 10, dry_g: 0.01 },
      hour: 178,
    };
    expect(pointsOf(dried).map(({ bath, of }) => [bath, of])).toEqual([
      [0, 'resin'],
      [1, 'resin'],
    ]);
  });
});

describe('a tub that nobody touched for years', () => {
  it('is looked at from where the last look left it, and told as a ledger looked at then tells it', () => {
    const toMs = START_MS + 3 * 365 * DAY;
    const { entries, series } = keptOf([...FILLED, wash(2)], { fromMs: START_MS + DAY, toMs });
    let checked = 0;
    series.baths.forEach(({ looked }, place) => {
      for (const { atMs, banded } of looked.filter((_, nth) => nth % 7 === 3)) {
        const told = statusOf(SHOP, entries, atMs).estimates[place]!;
        checked += 1;
        expect(banded === null).toBe(told.resinWtPct === null);
        if (!banded) continue;
        for (const end of ['p05', 'p50', 'p95'] as const) {
          // In the steps of the model the water is right within 2e-3 (tests/bath/air.test.ts).
          expect(Math.abs(banded.resin[end] - told.resinWtPct![end]!)).toBeLessThan(0.3);
          expect(Math.abs(banded.water[end] - told.waterWtPct![end]!)).toBeLessThan(0.3);
        }
      }
    });
    expect(checked).toBeGreaterThan(8);
  });
});

describe('the plan of looks', () => {
  it('stays bounded however much happens', () => {
    const many = entriesOf([
      ...FILLED,
      ...Array.from({ length: 4000 }, (_, nth) =>
        nth % 3 === 0 ? ({ what: 'rotate', hour: 1 + nth } as Draft) : wash(1 + nth),
      ),
    ]);
    const plan = lookPlan(many, { fromMs: START_MS, toMs: START_MS + 4001 * HOUR });
    expect(plan.after.size).toBeLessThanOrEqual(6 * 201);
    expect(plan.before.size).toBeLessThanOrEqual(4 * 201);
    expect(plan.after.has(many.at(-1)!)).toBe(true);
  });
});
