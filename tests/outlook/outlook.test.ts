import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import type { Header } from '../../src/ledger/header.ts';
import { dueOf } from '../../src/outlook/due.ts';
import { type Outlook, outlookOf } from '../../src/outlook/outlook.ts';
import { type Days, givenPace, paceOf } from '../../src/outlook/pace.ts';
import { Since } from '../../src/outlook/since.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';

const DAY = 86_400_000;

/** The calendar of a shop in UTC. */
const DAYS: Days = {
  startOf: (ms) => Math.floor(ms / DAY) * DAY,
  next: (startMs) => startMs + DAY,
  weekday: (ms) => new Date(ms).getUTCDay(),
};

/** Two loads on each working day of so many weeks; START_MS is a Monday. */
function weeks(count: number, load: Draft, skip: readonly number[] = []): Draft[] {
  const days = Array.from({ length: 7 * count }, (_, day) => day).filter(
    (day) => day % 7 < 5 && !skip.includes(day),
  );
  return days.flatMap((day) => [1, 5].map((hour) => ({ ...load, hour: 24 * day + hour })));
}

function at(drafts: Draft[], day: number, header: Header = PAIR) {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const clockMs = START_MS + day * DAY;
  const since = new Since(shop);
  const status = statusOf(shop, entries, clockMs, { watch: since.watch });
  since.look(status.replayed.baths, clockMs);
  const pace = paceOf(shop, entries, clockMs, DAYS);
  const outlook = pace && outlookOf(status, { pace, days: DAYS });
  return { shop, entries, clockMs, status, since, pace, outlook };
}

const LOAD: Draft = { what: 'wash', parts: { model: 4 } };

describe('the pace', () => {
  it('is that of the weekdays of the last 28 days', () => {
    const { pace } = at([...FILLED, ...weeks(4, LOAD)], 28);
    expect(pace!.loads).toEqual([0, 2, 2, 2, 2, 2, 0]);
    expect(pace!.perWeek).toBe(10);
    expect(pace!.basisDays).toBe(20);
    // Every day brings the same, beside two supposed ones that are half the mean off: sqrt(2 · 0.5²/21).
    expect(pace!.dayScatter).toBeCloseTo(Math.sqrt(0.5 / 21), 12);
  });

  it('falls by a quarter on the weekday of a holiday', () => {
    expect(at([...FILLED, ...weeks(4, LOAD, [7])], 28).pace!.loads[1]).toBe(1.5);
  });

  it('forgets what lies further back, and does not count today', () => {
    const { pace } = at([...FILLED, ...weeks(5, LOAD)], 34.9);
    expect(pace!.basisDays).toBe(20);
    expect(at([...FILLED, ...weeks(1, LOAD)], 60).pace).toBeNull();
    expect(at(FILLED, 3).pace).toBeNull();
  });

  it('can be given, for the weekdays the shop works', () => {
    const { pace, clockMs } = at([...FILLED, ...weeks(4, LOAD)], 28);
    expect(givenPace(6, pace, { clockMs, days: DAYS }).loads).toEqual([0, 6, 6, 6, 6, 6, 0]);
    expect(givenPace(6, null, { clockMs, days: DAYS }).loads).toEqual([0, 6, 6, 6, 6, 6, 0]);
  });

  it('of a new shop takes the weekdays it has not seen from those it has', () => {
    // Two loads on Monday, looked at on Tuesday.
    expect(at([...FILLED, ...weeks(1, LOAD).slice(0, 2)], 1.2).pace!.loads).toEqual([0, 2, 2, 2, 2, 2, 0]);
  });
});

describe('the outlook', () => {
  /** One sealed bath, 3 g into it with each load and nothing out of it. */
  const alone = headerOf({ rinse: {} });
  const given: Draft = {
    what: 'wash',
    parts: { model: 1 },
    carry_g: 3,
    drag_ml: [0],
    minutes: [1440],
    agitation: 'ultrasonic',
  };
  const fill: Draft = { what: 'fill', bath: 'rinse', solvent: 'ipa99', ml: 4000 };

  it('meets the limit where the masses say, by hand', () => {
    const { outlook } = at([fill, ...weeks(2, given)], 14, alone);
    // 2 wt% of the last bath, n · 3 g over it and 4 L of 0.78652 g/mL (99.5 wt%, CHU1962), 20 loads behind.
    const loads = ((0.02 / 0.98) * (4000 * 0.78652)) / 3 - 20;
    expect(outlook!.limit).toEqual({ bath: 'rinse', what: 'resin' });
    expect(outlook!.loads!.p50).toBeCloseTo(loads, 1);
    // The clock stands at eight on a Monday morning: both of its loads still come, in the two thirds of the day that are left.
    expect(outlook!.days!.p50).toBeCloseTo((loads / 2) * (2 / 3), 1);
    expect(outlook!.parts!.p50).toBeCloseTo(loads, 1);
    expect(outlook!.change).toEqual({ action: 'refill', baths: ['rinse'], solventMl: 4000, makeUpMl: 0 });
  });

  it('waits over the weekend', () => {
    const friday = at([fill, ...weeks(2, given)], 11.5, alone).outlook!;
    const monday = at([fill, ...weeks(2, given)], 14, alone).outlook!;
    // 2.5 days later, half a Friday's load of washes nearer.
    expect(friday.days!.p50 - monday.days!.p50).toBeGreaterThan(2);
  });

  it('with carry-over alone in doubt has the band of its log-normal', () => {
    const film: Draft = { ...given };
    delete (film as { carry_g?: number }).carry_g;
    const { outlook } = at([fill, ...weeks(2, film)], 14, alone);
    const band = outlook!.loads!;
    expect(band.p05!).toBeLessThan(band.p50);
    expect(band.p95!).toBeGreaterThan(band.p50);
    // At 1.645 sd of ln κ_c (0.45) the loads in all, ahead and behind, go as 1/κ_c.
    const behind = 20;
    const all = band.p50 + behind;
    const factor = Math.exp(1.645 * 0.45);
    expect(band.p95! / (all * factor - behind)).toBeGreaterThan(0.9);
    expect(band.p95! / (all * factor - behind)).toBeLessThan(1.15);
    expect(band.p05! / (all / factor - behind)).toBeGreaterThan(0.8);
    expect(band.p05! / (all / factor - behind)).toBeLessThan(1.15);
  });

  it('of a tub that nobody tops up counts what evaporates', () => {
    const open = at([...FILLED, ...weeks(4, LOAD)], 28, headerOf({ dirty: OPEN, clean: OPEN })).outlook!;
    const sealed = at([...FILLED, ...weeks(4, LOAD)], 28).outlook!;
    expect(open.days!.p50).toBeLessThan(sealed.days!.p50);
    expect(open.change!.solventMl).toBeGreaterThan(4000);
  });

  it('is past when a limit is met, and none without a wash', () => {
    const heavy: Draft = { ...LOAD, carry_g: 60, drag_ml: [10, 10] } as Draft;
    const past = at([...FILLED, ...weeks(2, heavy)], 14).outlook as Outlook;
    expect(past.past).toBe(true);
    expect(past.days!.p50).toBe(0);
    const { status, clockMs } = at(FILLED, 3);
    expect(outlookOf(status, { pace: givenPace(3, null, { clockMs, days: DAYS }), days: DAYS })).toBeNull();
  });
});

describe('what is due', () => {
  const settings = { withinDays: 3, staleDays: 5, readingDays: 28 };
  const due = (drafts: Draft[], day: number, header: Header = PAIR) =>
    dueOf({ ...at(drafts, day, header), days: DAYS, supply: null, containers: [], tests: [] }, settings);

  it('is nothing for fresh baths', () => {
    expect(due([...FILLED, ...weeks(1, { ...LOAD, carry_g: 0.5, drag_ml: [5, 5] } as Draft)], 6)).toEqual([]);
  });

  it('tells a limit since the wash that met it', () => {
    const heavy = { ...LOAD, carry_g: 40, drag_ml: [5, 5], minutes: [1440, 5] } as Draft;
    const drafts = [...FILLED, ...weeks(1, heavy)];
    const { status, since, shop } = at(drafts, 6);
    const [worst] = due(drafts, 6);
    expect(worst).toMatchObject({ what: 'limit', bath: 'dirty', because: 'resin', severity: 'change' });
    // 10 wt% of 4 L at 0.78652 g/mL take 349.6 g of resin, what 5 mL films leave with aside: the ninth load.
    const ninth = entriesOf(drafts).filter(({ event }) => event.what === 'wash')[8]!;
    expect(since.of(shop.tubPlace.get('dirty')!, 'resin', 'change')).toBe(ninth.atMs);
    expect(worst!.sinceMs).toBe(ninth.atMs);
    expect(status.advice.when).toBe('now');
  });

  it('tells five working days of silence, and not a weekend', () => {
    const light = { ...LOAD, carry_g: 0.5, drag_ml: [5, 5] } as Draft;
    const drafts = [...FILLED, ...weeks(2, light)];
    // The last entry is on Friday, day 11; the following Friday is day 18.
    expect(due(drafts, 18)).toEqual([]);
    expect(due(drafts, 19)).toMatchObject([{ what: 'stale', days: 5, severity: 'soon' }]);
  });

  it('reminds of a reading only where there was one', () => {
    const light = { ...LOAD, carry_g: 0.5, drag_ml: [5, 5] } as Draft;
    const reading: Draft = { what: 'reading', bath: 'dirty', level_ml: 4000, hour: 30 };
    const all = (drafts: Draft[]) =>
      due(
        [...drafts].sort((one, other) => (one.hour ?? 0) - (other.hour ?? 0)),
        32,
      )
        .filter(({ what }) => what === 'reading')
        .map(({ days }) => days);
    expect(all([...FILLED, ...weeks(4, light)])).toEqual([]);
    expect(all([...FILLED, ...weeks(4, light), reading])).toEqual([30]);
  });

  it('tells the age of a bath before and after its limit', () => {
    const header = headerOf({ dirty: {}, clean: {} }, { limits: { clean_age_days: 20 } });
    expect(due(FILLED, 18, header)).toMatchObject([
      { what: 'age', bath: 'clean', sinceMs: null },
      { what: 'stale' },
    ]);
    const [late] = due(FILLED, 22, header).filter(({ what }) => what === 'age');
    expect(late!.sinceMs).toBe(START_MS + 20 * DAY);
  });
});
