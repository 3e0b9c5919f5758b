import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { priorMedians, replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { bathVolume } from '../../src/bath/state.ts';
import { held } from '../../src/bath/tally.ts';
import { PRIOR_SD } from '../../src/belief/factors.ts';
import { atMeanScatter } from '../../src/belief/lump.ts';
import type { Header } from '../../src/ledger/header.ts';
import { outlookOf } from '../../src/outlook/outlook.ts';
import type { Days, Pace } from '../../src/outlook/pace.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { untilOf } from '../../src/outlook/until.ts';
import { daysAhead } from '../../src/outlook/until-days.ts';
import { type Course, runCourse } from '../../src/outlook/until-run.ts';
import { movementsOf } from '../../src/records/movements.ts';
import { stockOf } from '../../src/records/stock.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, START_MS } from '../bath/bench.ts';
import { normalFrom, sampleQuantile } from '../belief/bench.ts';

const DAY = 86_400_000;
const DAYS: Days = {
  startOf: (ms) => Math.floor(ms / DAY) * DAY,
  next: (startMs) => startMs + DAY,
  weekday: (ms) => new Date(ms).getUTCDay(),
};
/** The bench starts on a Monday at eight; the clock stands at the midnight before the next one. */
const MONDAY = START_MS - 8 * 3_600_000 + 7 * DAY;
const RESIN = { name: 'plain', density_g_ml: 1.1 };
const more = {
  resins: { plain: { density_g_ml: RESIN.density_g_ml, viscosity_mpa_s: 400 } },
  shop: { defaults: { resin: 'plain' as const }, currency: 'EUR' },
  solvents: { ipa99: { ipa_wt_pct: 99.5, price_per_l: 8 } },
};

function at(header: Header, drafts: readonly Draft[], weeks: number, perDay = 2, leadDays = 7) {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const movements = movementsOf();
  const status = statusOf(shop, entries, MONDAY, { watch: movements.watch });
  const loads = [0, 1, 1, 1, 1, 1, 0].map((one) => one * perDay);
  const pace: Pace = { loads, today: perDay, dayScatter: 0, basisDays: 0, perWeek: 5 * perDay };
  const outlook = outlookOf(status, { pace, days: DAYS })!;
  const stock = stockOf(shop, entries, movements, MONDAY);
  const until = untilOf(status, outlook, { toMs: MONDAY + weeks * 7 * DAY, days: DAYS, stock, leadDays })!;
  return { shop, status, outlook, until };
}

/** Carry-over in g, minutes in each bath. */
const GIVEN = { carry: 11, minutes: 4 } as const;
const givenWith = (drag: readonly number[]): Draft =>
  ({
    what: 'wash',
    parts: { model: 5 },
    carry_g: GIVEN.carry,
    drag_ml: [...drag],
    minutes: [GIVEN.minutes, GIVEN.minutes],
    agitation: 'still',
    hour: 3,
  }) as Draft;
const given = givenWith([24, 32]);

/** Density of 99.5 wt% IPA at 20 °C, g/mL: MODEL 1.1, written out. */
function solventDensity(): number {
  const w = 0.995;
  const z = 2 * w - 1;
  const water = 0.99997495 * (1 - ((20 - 3.983035) ** 2 * (20 + 301.797)) / (522528.9 * (20 + 69.34881)));
  const excess = -0.135308 + 0.0223535 * z - 0.016736 * z ** 2 - 0.0372521 * z ** 3 - 0.00504722 / 2;
  return 1 / (w / 0.785157 + (1 - w) / water + w * (1 - w) * excess);
}

/** Resin and solvent of one bath, g; MODEL 3 and 5 with nothing lost to the air. */
class Tub {
  resin = 0;
  solvent = 0;
  static readonly density = solventDensity();
  get ml(): number {
    return this.resin / RESIN.density_g_ml + this.solvent / Tub.density;
  }
  get wtPct(): number {
    return (100 * this.resin) / (this.resin + this.solvent);
  }
  pour(ml: number): void {
    this.solvent += ml * Tub.density;
  }
  leave(ml: number): { resin: number; solvent: number } {
    const share = ml / this.ml;
    const film = { resin: this.resin * share, solvent: this.solvent * share };
    this.resin -= film.resin;
    this.solvent -= film.solvent;
    return film;
  }
}

/** A year of a pair by hand: MODEL 3 load by load, MODEL 5 at 10 and 2 wt%, the mark in the morning below nine tenths of it. */
function byHand(weeks: number, drag: readonly [number, number]) {
  const [dirty, clean] = [new Tub(), new Tub()];
  for (const tub of [dirty, clean]) tub.pour(4000);
  const dissolves = 1 - Math.exp(-GIVEN.minutes / 6);
  const counted = { days: [] as number[], fill: 0, makeUp: 0, topUp: 0, waste: 0, wasteG: 0, loads: 0 };
  const wash = () => {
    const [into, on] = [GIVEN.carry * dissolves, GIVEN.carry * (1 - dissolves)];
    dirty.resin += into;
    const film = dirty.leave(drag[0]);
    clean.resin += film.resin + on * dissolves;
    clean.solvent += film.solvent;
    clean.leave(drag[1]);
  };
  wash();
  for (let day = 0; day < 7 * weeks; day += 1) {
    for (const tub of [dirty, clean])
      if (tub.ml < 3600) {
        counted.topUp += 4000 - tub.ml;
        tub.pour(4000 - tub.ml);
      }
    if (day % 7 > 4) continue;
    for (let load = 0; load < 2; load += 1) {
      wash();
      counted.loads += 1;
      if (dirty.wtPct < 10 && clean.wtPct < 2) continue;
      counted.days.push(day);
      counted.waste += dirty.ml;
      counted.wasteG += dirty.resin + dirty.solvent;
      if (clean.ml > 4000) {
        // What does not fit below the mark of dirty.
        counted.waste += clean.ml - 4000;
        const surplus = clean.leave(clean.ml - 4000);
        counted.wasteG += surplus.resin + surplus.solvent;
      }
      [dirty.resin, dirty.solvent] = [clean.resin, clean.solvent];
      counted.makeUp += Math.max(0, 4000 - dirty.ml);
      dirty.pour(Math.max(0, 4000 - dirty.ml));
      [clean.resin, clean.solvent] = [0, 0];
      clean.pour(4000);
      counted.fill += 4000;
    }
  }
  return counted;
}

describe('up to a day, nothing lost to the air', () => {
  const header = headerOf({ dirty: {}, clean: {} }, more);
  // Clean falls below its mark with the first, and rises above it with the second.
  const drags = [
    [24, 32],
    [32, 24],
  ] as const;
  it.each(drags.flatMap((drag) => [1, 6, 26, 52].map((weeks) => [weeks, drag] as const)))(
    '%d weeks with drag-out %j mL go as MODEL by hand',
    (weeks, drag) => {
      const hand = byHand(weeks, drag);
      const { until } = at(header, [...FILLED, givenWith(drag)], weeks);
      const { best } = until;
      expect(best.changes.map(({ atMs }) => Math.floor((atMs - MONDAY) / DAY))).toEqual(hand.days);
      expect(new Set(best.changes.map(({ action }) => action))).toEqual(
        new Set(hand.days.length > 0 ? ['rotate'] : []),
      );
      expect(until.changes.p50).toBe(hand.days.length);
      const sum = (of: (change: (typeof best.changes)[number]) => number) =>
        best.changes.reduce((all, change) => all + of(change), 0);
      expect(sum(({ fillMl }) => fillMl)).toBeCloseTo(hand.fill, 6);
      expect(sum(({ makeUpMl }) => makeUpMl)).toBeCloseTo(hand.makeUp, 4);
      expect(best.topUpMl).toBeCloseTo(hand.topUp, 4);
      expect(until.solventMl.p50).toBeCloseTo(hand.fill + hand.makeUp + hand.topUp, 4);
      expect(until.wasteMl.p50).toBeCloseTo(hand.waste, 4);
      expect(until.wasteG.p50).toBeCloseTo(hand.wasteG, 4);
      expect(until.loads.p50).toBe(hand.loads);
      expect(until.parts.p50).toBe(5 * hand.loads);
      // Eight a litre.
      expect(until.cost!.p50).toBeCloseTo(((hand.fill + hand.makeUp + hand.topUp) * 8) / 1000, 6);
    },
  );

  it('this test sees changes and top-ups at all', () => {
    for (const drag of drags) {
      const hand = byHand(52, drag);
      expect(hand.days.length).toBeGreaterThan(5);
      expect(hand.topUp).toBeGreaterThan(300);
    }
    expect(byHand(52, drags[0]).makeUp).toBeGreaterThan(100);
    expect(byHand(52, drags[1]).makeUp).toBeCloseTo(0, 6);
  });

  it('begins on the date of the outlook, where nothing is topped up before', () => {
    const heavy = { ...given, carry_g: 40, drag_ml: [9, 9] } as Draft;
    const { until, outlook } = at(header, [...FILLED, heavy], 8);
    const met = Math.floor(outlook.days!.p50);
    expect(Math.floor((until.best.changes[0]!.atMs - MONDAY) / DAY)).toBe(met);
  });
});

describe('what is counted', () => {
  const airy = headerOf({ dirty: OPEN, clean: OPEN }, more);
  const loads = [1, 5, 25, 29, 49].map((hour) => ({ what: 'wash', parts: { model: 6 }, hour }) as Draft);

  it('balances: in = change held + parts + tray + waste + air', () => {
    for (const midrinse of ['none', 'spray'] as const) {
      const rinsed = loads.map((load) => ({ ...load, midrinse }) as Draft);
      const { until, status, shop } = at(airy, [...FILLED, ...rinsed], 20, 5);
      const { best } = until;
      expect(best.changes.length).toBeGreaterThan(2);
      const [before, after] = [held(status.replayed.baths), held(best.baths)];
      const { tally } = best;
      for (const what of ['resin', 'ipa', 'water'] as const) {
        const out = tally.parts[what] + tally.tray[what] + tally.waste[what] + tally.air[what];
        expect(before[what] + tally.in[what]).toBeCloseTo(after[what] + out, 7);
      }
      const { density } = shop.solvents.get('ipa99')!;
      expect(until.solventMl.p50 * density).toBeCloseTo(tally.in.ipa + tally.in.water, 6);
      expect(until.wasteG.p50).toBeCloseTo(tally.waste.resin + tally.waste.ipa + tally.waste.water, 6);
      expect(best.pours.reduce((sum, { ml }) => sum + ml, 0)).toBeCloseTo(until.solventMl.p50, 6);
    }
  });

  it('keeps every bath below its limit and above nine tenths of its mark, but for a day', () => {
    const { until, shop } = at(airy, [...FILLED, ...loads], 30, 5);
    until.best.baths.forEach((bath, place) => {
      const { markMl, limits } = shop.tubs[place]!;
      expect((100 * bath.resin.reduce((a, b) => a + b, 0)) / (bath.ipaG + bath.waterG)).toBeLessThan(
        1.2 * limits.resin[1],
      );
      expect(bathVolume(bath, shop.resins)).toBeGreaterThan(0.85 * markMl);
    });
  });

  it('refills a clean bath at its water limit and does not rotate it', () => {
    // In a damp room an open clean bath takes up water long before a load a day brings it resin.
    const damp = headerOf(
      { dirty: {}, clean: { ...OPEN, lid_open_h: 24 } },
      { ...more, shop: { ...more.shop, humidity_pct: 95 } },
    );
    const light = { ...given, carry_g: 0.2, drag_ml: [5, 5] } as Draft;
    const { until } = at(damp, [...FILLED, light], 26, 0.2);
    expect(until.best.changes.length).toBeGreaterThan(0);
    for (const change of until.best.changes) expect(change).toMatchObject({ action: 'refill' });
    expect(until.best.changes[0]!.baths).toContain('clean');
  });

  it('refills one bath that is alone', () => {
    const alone = headerOf({ rinse: {} }, more);
    const one = { ...given, drag_ml: [10], minutes: [5] } as Draft;
    const { until } = at(alone, [{ ...FILLED[0]!, bath: 'rinse' } as Draft, one], 10);
    expect(until.best.changes.length).toBeGreaterThan(1);
    for (const change of until.best.changes)
      expect(change).toMatchObject({ action: 'refill', baths: ['rinse'], makeUpMl: 0 });
  });

  it('changes what is past its limit first of all', () => {
    const heavy = Array.from({ length: 5 }, (_, day) => ({
      ...given,
      carry_g: 120,
      hour: 24 * day + 1,
    })) as Draft[];
    const { until } = at(headerOf({ dirty: {}, clean: {} }, more), [...FILLED, ...heavy], 4);
    expect(until.best.changes[0]!.atMs).toBe(MONDAY);
  });

  it('stops where a load takes more out than a bath holds', () => {
    const flood = { ...given, drag_ml: [3900, 10] } as Draft;
    const { until } = at(headerOf({ dirty: { mark_ml: 3000 }, clean: {} }, more), [...FILLED, flood], 4);
    expect(until.best.stopped).toMatchObject({ why: 'runs-dry' });
  });
});

describe('the stock', () => {
  const header = headerOf({ dirty: {}, clean: {} }, more);
  const with_ = (receivedMl: number, weeks = 26, leadDays = 7) =>
    at(
      header,
      [...FILLED, { what: 'stock', solvent: 'ipa99', received_ml: receivedMl } as Draft, given],
      weeks,
      2,
      leadDays,
    ).until;

  it('is not known until it is logged', () => {
    expect(at(header, [...FILLED, given], 4).until.stock!.onHandMl).toBeNull();
  });

  it('of plenty is enough', () => {
    expect(with_(200_000).stock).toMatchObject({ shortDays: null, orderByDays: null, shortMl: { p50: 0 } });
  });

  it('falls short at the pour that it does not reach, and is ordered a lead before the early end', () => {
    const { stock, best, solventMl } = with_(10_000);
    let left = 10_000;
    const pour = best.pours.find(({ ml }) => {
      left -= ml;
      return left < 0;
    })!;
    expect(stock!.shortDays!.p50).toBeCloseTo((pour.atMs - MONDAY) / DAY, 9);
    expect(stock!.shortMl!.p50).toBeCloseTo(solventMl.p50 - 10_000, 6);
    expect(stock!.orderByDays!).toBeCloseTo(stock!.shortDays!.p05! - 7, 9);
    expect(with_(10_000, 26, 20).stock!.orderByDays!).toBeCloseTo(stock!.shortDays!.p05! - 20, 9);
  });
});

describe('the bands', () => {
  it('hold the best estimate, in whole changes, and grow with what is not known', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 1, max: 10 }),
        fc.boolean(),
        (weeks, perDay, model, airy) => {
          const tub = airy ? OPEN : {};
          const drafts = [2, 30, 54].map((hour) => ({ what: 'wash', parts: { model }, hour }) as Draft);
          const header = headerOf({ dirty: tub, clean: tub }, more);
          const { until } = at(header, [...FILLED, ...drafts], weeks, perDay);
          const { changes, solventMl, wasteMl, wasteG, cost, loads, parts } = until;
          for (const band of [changes, solventMl, wasteMl, wasteG, cost!, loads, parts]) {
            expect(band.p05!).toBeLessThanOrEqual(band.p50);
            expect(band.p50).toBeLessThanOrEqual(band.p95!);
            expect(band.p05!).toBeGreaterThanOrEqual(0);
          }
          for (const end of [changes.p05, changes.p50, changes.p95]) expect(Number.isInteger(end)).toBe(true);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('end where those of 500 drawn shops do', () => {
    const header = headerOf({ dirty: OPEN, clean: OPEN }, more);
    const drafts = [2, 30, 54].map((hour) => ({ what: 'wash', parts: { model: 7 }, hour }) as Draft);
    const { until, status, outlook, shop } = at(header, [...FILLED, ...drafts], 20, 4);
    const days = daysAhead(MONDAY, until.toMs, { pace: outlook.pace, days: DAYS });
    const normal = normalFrom(1926);
    const drawn = Array.from({ length: 500 }, () => {
      const factors = priorMedians(shop);
      for (const name of ['carry', 'drag', 'dissolution'] as const)
        factors[name] *= Math.exp(PRIOR_SD[name] * normal());
      for (const air of factors.air)
        for (const name of ['evaporation', 'moisture'] as const)
          air[name] *= Math.exp(PRIOR_SD[name] * normal());
      const { baths } = replay(shop, entriesOf([...FILLED, ...drafts]), MONDAY, { factors });
      const load = atMeanScatter(outlook.load);
      return runCourse(shop, { baths, factors }, { load, days, solvent: status.replayed.solvent! });
    });
    const sorted = (of: (course: Course) => number) => drawn.map(of).sort((one, other) => one - other);
    const litres = sorted(({ pouredMl }) => pouredMl);
    const waste = sorted(({ wasteG }) => wasteG);
    const changes = sorted((course) => course.changes.length);
    for (const [end, share] of [
      ['p05', 0.05],
      ['p95', 0.95],
    ] as const) {
      // 500 draws know their ends to about 5 %; the rest is whole changes against shares of them.
      expect(until.solventMl[end]! / sampleQuantile(litres, share)).toBeGreaterThan(0.85);
      expect(until.solventMl[end]! / sampleQuantile(litres, share)).toBeLessThan(1.15);
      expect(until.wasteG[end]! / sampleQuantile(waste, share)).toBeGreaterThan(0.8);
      expect(until.wasteG[end]! / sampleQuantile(waste, share)).toBeLessThan(1.2);
      expect(Math.abs(until.changes[end]! - sampleQuantile(changes, share))).toBeLessThanOrEqual(1);
    }
  });

  it('of loads that were given have no width, of resin that was not weighed a factor of about e^(0.45 · 1.645) each way', () => {
    const sealed = headerOf({ dirty: {}, clean: {} }, more);
    // All of it dissolves, and drag-out is known: only what a load carries in is in doubt.
    const known = { drag_ml: [10, 10], minutes: [90, 90], agitation: 'ultrasonic', parts: { model: 8 } };
    const drafts = [2, 30, 54].map((hour) => ({ what: 'wash', ...known, hour }) as Draft);
    const { until } = at(sealed, [...FILLED, ...drafts], 52, 6);
    expect(until.loads.p05).toBe(until.loads.p95);
    const { p05, p50, p95 } = until.changes;
    expect(p50).toBeGreaterThan(20);
    const factor = Math.exp(0.45 * 1.645);
    // Between two changes go as many loads as it takes to bring so much resin; 260 working days of 6 tell it within a tenth.
    expect(p95! / p50 / factor).toBeGreaterThan(0.9);
    expect(p95! / p50 / factor).toBeLessThan(1.15);
    expect((p05! / p50) * factor).toBeGreaterThan(0.85);
    expect((p05! / p50) * factor).toBeLessThan(1.15);
  });
});
