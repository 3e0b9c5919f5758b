import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadOf } from '../../src/bath/load.ts';
import { priorMedians } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { copyBath, resinFraction } from '../../src/bath/state.ts';
import { emptyTally } from '../../src/bath/tally.ts';
import { washLoad } from '../../src/bath/wash.ts';
import { PRIOR_SD, WASH_SCATTER } from '../../src/belief/factors.ts';
import type { WashEvent } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { outlookOf } from '../../src/outlook/outlook.ts';
import type { Days, Pace } from '../../src/outlook/pace.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { type Moment, trailAhead, trailBehind } from '../../src/outlook/trail.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';
import { normalFrom } from '../belief/bench.ts';

const DAY = 86_400_000;
const HOUR = 3_600_000;
/** The calendar of a shop in UTC. */
const DAYS: Days = {
  startOf: (ms) => Math.floor(ms / DAY) * DAY,
  next: (startMs) => startMs + DAY,
  weekday: (ms) => new Date(ms).getUTCDay(),
};
const AIRY = headerOf({ dirty: OPEN, clean: OPEN });

/** So many loads from Monday to Friday; today what is left of the day. */
function paceAt(clockMs: number, perDay: number): Pace {
  const loads = [0, 1, 1, 1, 1, 1, 0].map((one) => one * perDay);
  const left = 1 - (clockMs % DAY) / DAY;
  const today = left * loads[DAYS.weekday(clockMs)]!;
  return { loads, today, dayScatter: 0, basisDays: 0, perWeek: 5 * perDay };
}

function at(header: Header, drafts: readonly Draft[], hour: number, perDay = 2) {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const clockMs = START_MS + hour * HOUR;
  const status = statusOf(shop, entries, clockMs);
  const outlook = outlookOf(status, { pace: paceAt(clockMs, perDay), days: DAYS })!;
  const ahead = outlook && trailAhead(status, outlook, DAYS);
  return { shop, entries, clockMs, status, outlook, past: trailBehind(status, entries, DAYS), ahead };
}

const wash = (hour: number, more: object = {}): Draft =>
  ({ what: 'wash', parts: { model: 4 }, hour, ...more }) as Draft;

/** Three weeks with a rotation, readings, top-ups, what moves nothing, and what cannot have happened. */
const LIVELY: Draft[] = [
  ...FILLED,
  wash(2),
  wash(30),
  { what: 'rotate', hour: 50 },
  wash(51),
  wash(54),
  { what: 'inspect', result: 'ok', hour: 77 },
  wash(80),
  { what: 'drain', bath: 'dirty', ml: 9000, hour: 81 },
  { what: 'reading', bath: 'dirty', density_g_ml: 0.795, temp_c: 22, hour: 103 },
  wash(104),
  { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000, hour: 126 },
  { what: 'top-up', bath: 'clean', to: 'mark', hour: 150 },
  wash(152),
  wash(154),
  { what: 'refill', bath: 'clean', hour: 177 },
  wash(180),
  { what: 'stock', solvent: 'ipa99', received_ml: 5000, hour: 200 },
  wash(202),
] as Draft[];

describe('the trail behind', () => {
  it('has each moment as a ledger looked at then tells it', () => {
    const { shop, entries, past } = at(AIRY, LIVELY, 300);
    expect(past.length).toBeGreaterThan(8);
    for (const { atMs, resinWtPct } of past) {
      const then = statusOf(
        shop,
        entries.filter((entry) => entry.atMs <= atMs),
        atMs,
      );
      resinWtPct.forEach((value, place) => {
        if (value === null) return;
        const told = then.estimates[place]!.resinWtPct!;
        expect(value.p50).toBeCloseTo(told.p50, 12);
        expect(value.p05).toBeCloseTo(told.p05!, 12);
        expect(value.p95).toBeCloseTo(told.p95!, 12);
      });
    }
  });

  it('begins for each bath at its own last change, and has the end of every day since', () => {
    const { past, clockMs } = at(AIRY, LIVELY, 300);
    const times = (place: number) =>
      past.filter(({ resinWtPct }) => resinWtPct[place] !== null).map(({ atMs }) => atMs);
    const [dirty, clean] = [times(0), times(1)];
    expect(dirty[0]).toBe(START_MS + 50 * HOUR);
    expect(clean[0]).toBe(START_MS + 177 * HOUR);
    const midnights = Array.from({ length: 20 }, (_, day) => DAYS.startOf(START_MS) + day * DAY);
    const since = (fromMs: number) => midnights.filter((ms) => ms > fromMs && ms < clockMs);
    expect(dirty.filter((ms) => ms % DAY === 0)).toEqual(since(dirty[0]!));
    expect(clean.filter((ms) => ms % DAY === 0)).toEqual(since(clean[0]!));
    // A fresh fill holds no resin.
    expect(past.find(({ atMs }) => atMs === clean[0])!.resinWtPct[1]!.p50).toBe(0);
  });

  it('is nothing for a shop that fills its baths now', () => {
    expect(at(AIRY, FILLED, 0).past).toEqual([]);
  });
});

describe('the trail ahead', () => {
  const shops: [string, Header, number][] = [
    ['a sealed pair', PAIR, 300],
    ['an airy pair', AIRY, 300],
    ['an airy pair at midnight', AIRY, 304],
  ];

  it.each(shops)('of %s starts at the estimate and meets the limit on the date', (_, header, hour) => {
    const { shop, status, outlook, ahead, clockMs } = at(header, LIVELY, hour);
    expect(ahead[0]).toEqual({
      atMs: clockMs,
      resinWtPct: status.estimates.map((one) => one.resinWtPct),
      waterWtPct: status.estimates.map((one) => one.waterWtPct),
    });
    const { bath, what } = outlook.limit!;
    expect(what).toBe('resin');
    const place = shop.tubPlace.get(bath)!;
    const limit = shop.tubs[place]!.limits.resin[1];
    const past = ahead.findIndex(({ resinWtPct }) => resinWtPct[place]!.p50 >= limit);
    const [before, after] = [ahead[past - 1]!, ahead[past]!];
    const [from, to] = [before.resinWtPct[place]!.p50, after.resinWtPct[place]!.p50];
    const met = before.atMs + ((limit - from) / (to - from)) * (after.atMs - before.atMs);
    // The date takes several days together far from the limit, the trail does not.
    expect(Math.abs((met - clockMs) / DAY - outlook.days!.p50)).toBeLessThan(0.03);
  });

  it('goes on to the late end of the date', () => {
    const { outlook, ahead, clockMs } = at(AIRY, LIVELY, 300);
    const late = clockMs + outlook.days!.p95! * DAY;
    expect(ahead.at(-1)!.atMs).toBeGreaterThanOrEqual(late);
    expect(ahead.at(-2)!.atMs).toBeLessThan(late);
  });

  it('without loads has the water that a look on each of those days would find', () => {
    const { shop, entries, status, outlook } = at(AIRY, LIVELY, 300);
    const idle = { ...outlook, pace: { ...outlook.pace, loads: [0, 0, 0, 0, 0, 0, 0], today: 0 } };
    for (const { atMs, waterWtPct } of trailAhead(status, idle, DAYS).slice(1, 8)) {
      const then = statusOf(shop, entries, atMs);
      waterWtPct.forEach((value, place) => {
        const told = then.estimates[place]!.waterWtPct!;
        // Days are taken one by one here, and all at once there.
        for (const end of ['p05', 'p50', 'p95'] as const) expect(value![end]! / told[end]!).toBeCloseTo(1, 2);
      });
    }
  });

  it('has its early and late ends near those of the date', () => {
    // The date's band is found from its own worlds and not from these.
    const { outlook, ahead, shop, clockMs } = at(AIRY, LIVELY, 300);
    const place = shop.tubPlace.get(outlook.limit!.bath)!;
    const limit = shop.tubs[place]!.limits.resin[1];
    const first = (end: 'p05' | 'p95') =>
      (ahead.find(({ resinWtPct }) => resinWtPct[place]![end]! >= limit)!.atMs - clockMs) / DAY;
    const { p05, p95 } = outlook.days!;
    expect(first('p95') / p05!).toBeGreaterThan(0.8);
    expect(first('p95') / p05!).toBeLessThan(1.25);
    expect((ahead.at(-1)!.resinWtPct[place]!.p05! - limit) / limit).toBeLessThan(0.2);
    expect(p95!).toBeGreaterThan(p05!);
  });

  it('shows some days where the limit is past, and twelve weeks where none is in sight', () => {
    const heavy = Array.from({ length: 6 }, (_, day) =>
      wash(24 * day + 1, { carry_g: 120, drag_ml: [9, 9] }),
    );
    const past = at(PAIR, [...FILLED, ...heavy], 150);
    expect(past.outlook.past).toBe(true);
    expect(past.ahead).toHaveLength(9);
    const light = at(PAIR, [...FILLED, wash(1, { carry_g: 0.01, drag_ml: [5, 5] })], 150);
    expect(light.outlook.limit).toBeNull();
    expect(light.ahead.at(-1)!.atMs - light.clockMs).toBeGreaterThan(83 * DAY);
  });

  it('of drawn shops holds nine in ten', () => {
    // The shop as it was drawn is replayed load by load with the scatter of each; the band knows only the ledger.
    const drafts = [0, 1, 2, 3, 4].flatMap((day) => [wash(24 * day + 1), wash(24 * day + 5)]);
    const { shop, entries, ahead } = at(PAIR, [...FILLED, ...drafts], 24 * 7 - 8, 2);
    // Monday to Friday of the week to come, and then ten loads more.
    const looked = [5, 10].map((day) => ahead[day]!);
    const load = loadOf(entries.find(({ event }) => event.what === 'wash')!.event as WashEvent, shop);
    const normal = normalFrom(20_261_120);
    const inside = [0, 0, 0, 0];
    const many = 400;
    for (let shopAt = 0; shopAt < many; shopAt += 1) {
      const factors = priorMedians(shop);
      for (const name of ['carry', 'drag', 'dissolution'] as const)
        factors[name] *= Math.exp(PRIOR_SD[name] * normal());
      const baths = filled(shop);
      for (let washes = 1; washes <= 26; washes += 1) {
        const scatter = Math.exp(WASH_SCATTER * normal());
        washLoad(baths, { ...load, filmG: load.filmG * scatter }, shop, factors, emptyTally());
        const moment = washes === 20 ? 0 : washes === 26 ? 1 : -1;
        if (moment < 0) continue;
        baths.forEach((bath, place) => {
          const { p05, p95 } = looked[moment]!.resinWtPct[place]!;
          const truth = 100 * resinFraction(bath);
          if (truth >= p05! && truth <= p95!) inside[2 * moment + place]! += 1;
        });
      }
    }
    // Three standard deviations of 400 draws about 0.9.
    for (const hits of inside) {
      expect(hits / many).toBeGreaterThan(0.855);
      expect(hits / many).toBeLessThan(0.945);
    }
  });
});

function filled(shop: ReturnType<typeof openShop>) {
  return statusOf(shop, entriesOf(FILLED), START_MS).replayed.baths.map(copyBath);
}

describe('everywhere', () => {
  const draft = fc.oneof(
    fc
      .record({ parts: fc.record({ model: fc.integer({ min: 1, max: 12 }) }) })
      .map((one) => ({ what: 'wash', ...one })),
    fc.constant({ what: 'top-up', bath: 'clean', to: 'mark' }),
    fc.constant({ what: 'rotate' }),
    fc.constant({ what: 'refill', bath: 'clean' }),
    fc.record({ density_g_ml: fc.double({ min: 0.784, max: 0.82, noNaN: true }) }).map((one) => ({
      what: 'reading',
      bath: 'dirty',
      temp_c: 22,
      ...one,
    })),
  );

  it('the best estimate lies in its band, the moments in order', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(draft, fc.integer({ min: 1, max: 40 })), { minLength: 1, maxLength: 12 }),
        fc.integer({ min: 1, max: 8 }),
        (list, perDay) => {
          let hour = 0;
          const drafts = list.map(([one, after]) => {
            hour += after;
            return { ...one, hour } as Draft;
          });
          const { past, ahead } = at(AIRY, [...FILLED, ...drafts, wash(hour + 1)], hour + 20, perDay);
          const all: Moment[] = [...past, ...ahead];
          all.forEach(({ atMs, resinWtPct }, place) => {
            if (place > 0) expect(atMs).toBeGreaterThan(all[place - 1]!.atMs);
            for (const value of resinWtPct) {
              if (value === null) continue;
              expect(value.p05!).toBeLessThanOrEqual(value.p50);
              expect(value.p50).toBeLessThanOrEqual(value.p95!);
              expect(value.p05!).toBeGreaterThanOrEqual(0);
              expect(value.p95!).toBeLessThanOrEqual(100);
            }
          });
        },
      ),
      { numRuns: 40 },
    );
  });
});
