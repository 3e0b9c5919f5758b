import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { ipaFraction, resinFraction } from '../../src/bath/state.ts';
import type { Header, LimitsHeader } from '../../src/ledger/header.ts';
import { outlookOf } from '../../src/outlook/outlook.ts';
import type { Days } from '../../src/outlook/pace.ts';
import { type Status, statusOf } from '../../src/outlook/status.ts';
import { adviceText } from '../../src/render/advice.ts';
import { type Draft, entriesOf, FILLED, headerOf, START_MS } from '../bath/bench.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** The calendar of a shop in UTC. */
const DAYS: Days = {
  startOf: (ms) => Math.floor(ms / DAY) * DAY,
  next: (startMs) => startMs + DAY,
  weekday: (ms) => new Date(ms).getUTCDay(),
};

/** All of 4 g dissolves in the dirty bath, and 6 mL leave each bath. */
const LOAD: Draft = {
  what: 'wash',
  parts: { model: 4 },
  carry_g: 4,
  drag_ml: [6, 6],
  minutes: [1440, 1440],
  agitation: 'ultrasonic',
};

/** Two loads, at 9:00 and 13:00, on the days of so many weeks from a Monday on. */
function loads(weeks: number, isWorked: (weekday: number) => boolean): Draft[] {
  const days = Array.from({ length: 7 * weeks }, (_, day) => day).filter((day) => isWorked((day + 1) % 7));
  return days.flatMap((day) => [1, 5].map((hour) => ({ ...LOAD, hour: 24 * day + hour })));
}

const WEEKDAYS = (weekday: number) => weekday > 0 && weekday < 6;

/** The shop at an hour of a day, counted from the Monday at 8:00 at which it filled its baths. */
function shopAt(on: {
  day: number;
  hour: number;
  limits?: LimitsHeader;
  worked?: (weekday: number) => boolean;
  /** Without it nothing evaporates. */
  air?: { evaporation: number; moisture: number };
}): Status {
  const tub = on.air ?? {};
  const header: Header = headerOf({ dirty: tub, clean: tub }, { limits: on.limits ?? {} });
  const clockMs = START_MS + on.day * DAY + (on.hour - 8) * HOUR;
  const entries = entriesOf([...FILLED, ...loads(8, on.worked ?? WEEKDAYS)]).filter(
    ({ atMs }) => atMs <= clockMs,
  );
  return statusOf(openShop(header), entries, clockMs, { days: DAYS });
}

const percent = (status: Status, place: number) => 100 * resinFraction(status.replayed.baths[place]!);

/** Limits on the dirty bath: so many more loads below the change limit, soon from now on; each load adds about 0.12 wt%. */
function loadsLeft(on: { day: number; hour: number; worked?: (weekday: number) => boolean }, many: number) {
  const now = percent(shopAt(on), 0);
  return shopAt({ ...on, limits: { dirty_resin: [now - 0.01, now + 0.118 * (many + 0.5), 50] } });
}

describe('the limits ahead', () => {
  it('are met by each bath when a recursion by hand meets them', () => {
    const status = shopAt({
      day: 11,
      hour: 14,
      limits: { dirty_resin: [3, 4, 20], clean_resin: [0.2, 0.3, 5] },
    });
    const [dirty, clean] = status.replayed.baths;
    const solvent = status.shop.solvents.get('ipa99')!;
    // Grams in and mL out, volumes additive in a solvent of one strength: MODEL 3, README.md of the bath.
    const held = [dirty!, clean!].map((bath) => ({
      resin: bath.resin[0]!,
      solvent: bath.ipaG + bath.waterG,
    }));
    const met = [0, 0];
    for (let load = 1; load < 200; load += 1) {
      let film = { resin: 4, solvent: 0 };
      held.forEach((bath, place) => {
        bath.resin += film.resin;
        bath.solvent += film.solvent;
        const share = 6 / (bath.resin / 1.11 + bath.solvent / solvent.density);
        film = { resin: bath.resin * share, solvent: bath.solvent * share };
        bath.resin -= film.resin;
        bath.solvent -= film.solvent;
        const limit = [4, 0.3][place]!;
        if (met[place] === 0 && (100 * bath.resin) / (bath.resin + bath.solvent) >= limit) met[place] = load;
      });
    }
    const { limits } = status.plan!;
    limits.forEach((limit, place) => {
      expect(limit!.what).toBe('resin');
      // The whole load that crosses, and a day's loads taken together.
      expect(limit!.loads).toBeGreaterThan(met[place]! - 1.6);
      expect(limit!.loads).toBeLessThan(met[place]! + 0.6);
    });
    expect(Math.abs(limits[0]!.loads - limits[1]!.loads)).toBeGreaterThan(5);
  });

  it('begin with the first limit of the outlook', () => {
    const limits: LimitsHeader = { dirty_resin: [3, 4, 20], clean_resin: [0.2, 0.3, 5] };
    const status = shopAt({ day: 11, hour: 14, limits });
    const { plan } = status;
    const outlook = outlookOf(status, { pace: plan!.pace, days: DAYS });
    const first = Math.min(...plan!.limits.map((limit) => limit!.days));
    expect(plan!.days).toBe(first);
    // Far from the limit the two may take different days together.
    expect(Math.abs(outlook!.days!.p50 - first)).toBeLessThan(0.03);
  });

  it('lie at 0 for a bath that is past its own', () => {
    const { plan } = shopAt({ day: 11, hour: 14, limits: { dirty_resin: [0.1, 0.2, 20] } });
    expect(plan!.limits[0]).toEqual({ what: 'resin', days: 0, loads: 0 });
  });
});

describe('days off', () => {
  const restAt = (day: number, hour: number, worked = WEEKDAYS) => shopAt({ day, hour, worked }).plan!.rest;

  it('are the weekend, with the loads that still come before it', () => {
    // Day 28 is a Monday; loads at 9:00 and 13:00.
    expect(restAt(28, 8)).toMatchObject({ startsIn: 5, endsIn: 7, first: 6, back: 1, loadsBefore: 10 });
    expect(restAt(32, 8)).toMatchObject({ startsIn: 1, endsIn: 3, first: 6, back: 1, loadsBefore: 2 });
    expect(restAt(32, 10)).toMatchObject({ startsIn: 1, loadsBefore: 1 });
    expect(restAt(32, 14)).toMatchObject({ startsIn: 1, loadsBefore: 0 });
    expect(restAt(33, 12)).toMatchObject({ startsIn: 0, endsIn: 2, loadsBefore: 0, back: 1 });
    expect(restAt(34, 12)).toMatchObject({ startsIn: 0, endsIn: 1, first: 0, back: 1 });
  });

  it('are a single day where that is the habit, and none where there is none', () => {
    expect(restAt(29, 8, (weekday) => weekday !== 3)).toMatchObject({
      startsIn: 1,
      endsIn: 2,
      first: 3,
      back: 4,
    });
    expect(restAt(29, 8, () => true)).toBeNull();
  });
});

describe('the advice', () => {
  const text = (status: Status) => adviceText(status.advice, status.estimates);

  it('waits for Monday when the weekend comes before the limit', () => {
    // Friday after the last load, one load left, which Monday brings.
    const status = loadsLeft({ day: 32, hour: 14 }, 1);
    expect(status.left!.loads).toBe(1);
    expect(text(status)).toMatch(/^Rotate on Monday, not before the weekend: the dirty bath is at /);
    expect(text(status)).toMatch(/1 more load \(.*, about Monday; none is usual before the weekend$/);
  });

  it('names the day when the limit lies beyond it', () => {
    const status = loadsLeft({ day: 32, hour: 14 }, 3);
    expect(status.left!.loads).toBe(3);
    expect(text(status)).toMatch(/^Rotate soon: /);
    expect(text(status)).toMatch(/3 more loads \(.*, about Tuesday, after the weekend$/);
  });

  it('does not wait when the loads before the weekend would cross the limit', () => {
    const status = loadsLeft({ day: 32, hour: 8.5 }, 1);
    expect(text(status)).toMatch(/^Rotate soon: /);
    expect(text(status)).toMatch(/, today, and 2 usually come before the weekend$/);
  });

  it('on a day off sends to the next day of work', () => {
    expect(text(loadsLeft({ day: 33, hour: 12 }, 1))).toMatch(/^Rotate on Monday, not on a day off: /);
  });

  it('says which of two comes first, and that one rotation is enough', () => {
    const now = shopAt({ day: 32, hour: 14 });
    const [dirty, clean] = [percent(now, 0), percent(now, 1)];
    const near = (margins: [number, number]) =>
      shopAt({
        day: 32,
        hour: 14,
        limits: {
          clean_age_days: 60,
          dirty_resin: [dirty * 0.9, dirty * margins[0], 50],
          clean_resin: [clean * 0.8, clean * margins[1], 50],
        },
      });
    expect(text(near([1.4, 1.1]))).toMatch(
      /^Rotate soon: the clean bath is .*; the dirty bath comes next \(resin, in about \d+ loads\), and one rotation cures both$/,
    );
    expect(text(near([0.85, 0.93]))).toMatch(
      /^Rotate now: the dirty bath is .*; the clean bath is past its limit too \(resin\), and one rotation cures both$/,
    );
  });

  it('tells the loads that the date is of, where evaporation leaves room for fewer', () => {
    const at = { day: 11, hour: 14 };
    const clean = percent(shopAt(at), 1);
    const limits: LimitsHeader = {
      clean_age_days: 365,
      dirty_age_days: 365,
      dirty_resin: [40, 50, 60],
      clean_resin: [9 * clean, 10 * clean, 50],
    };
    const open = shopAt({ ...at, limits, air: { evaporation: 1, moisture: 0 } });
    const first = open.plan!.limits[1]!.loads;
    expect(first).toBeLessThan(0.9 * open.left!.loads);
    const [, told] = /; about (\d+) with what evaporates meanwhile, in about \d+ days$/.exec(text(open))!;
    expect(Number(told)).toBe(Math.floor(first));
    // With the lids on, the two are one.
    expect(text(shopAt({ ...at, limits }))).not.toContain('evaporates');
  });

  it('names what comes first instead, where the air brings that', () => {
    const at = { day: 11, hour: 14, air: { evaporation: 1, moisture: 3 } };
    const now = shopAt(at);
    const water = 100 * (1 - ipaFraction(now.replayed.baths[1]!));
    const status = shopAt({
      ...at,
      limits: {
        clean_age_days: 365,
        dirty_age_days: 365,
        clean_water: [water * 1.9, water * 2, 50],
        dirty_water: [40, 50, 60],
        dirty_resin: [15, 20, 30],
      },
    });
    expect(status.left!.because).toBe('resin');
    expect(text(status)).toMatch(
      /; with what evaporates meanwhile the clean bath reaches [\d.]+ wt% water first, after about \d+, /,
    );
  });

  it('names the date only where the pace is known', () => {
    const silent = shopAt({ day: 90, hour: 12 });
    expect(silent.plan).toBeNull();
    expect(text(silent)).not.toMatch(/about (?:\w+day|in)|tomorrow/);
  });
});
