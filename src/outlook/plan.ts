/**
 * When to act, at the shop's own pace: the date of the change, which bath comes first, and the days off in between.
 */
import type { Entry } from '../ledger/event.ts';
import { limitsAhead, type Met } from './ahead.ts';
import { meanLoad } from './mean-load.ts';
import { type Outlook, outlookOf } from './outlook.ts';
import { type Days, type Pace, paceOf } from './pace.ts';
import type { Quantity } from './quantity.ts';
import type { Known } from './status.ts';

/** Days on which the shop does not wash, one or more in a row. */
export interface Rest {
  /** Loads that still come before it; 0 when it has begun. */
  loadsBefore: number;
  /** Days from today to its first day, and to the day after it. */
  startsIn: number;
  endsIn: number;
  /** 0 for Sunday to 6: its first day, and the day on which washing begins again. */
  first: number;
  back: number;
}

export interface Plan {
  pace: Pace;
  outlook: Outlook | null;
  /** Days from the clock to the first limit. */
  days: Quantity | null;
  /** The weekday of the best estimate, 0 for Sunday to 6, and how many midnights lie before it. */
  on: { weekday: number; midnights: number } | null;
  /** When each bath meets its limit if nothing is changed, in the order of `shop.tubs`. */
  limits: (Met | null)[];
  /** The next days off; null for a shop that washes every day. */
  rest: Rest | null;
}

/** Beyond this a bath is not near its limit. */
const NEAR_DAYS = 30;
/** A weekday with fewer loads than one in ten weeks is a day off. */
const HARDLY_ANY = 0.1;
const MS_PER_DAY = 86_400_000;

/**
 * @param entries - those that were replayed
 * @returns null when nothing was washed in the last 28 days
 */
export function planOf(known: Known, entries: readonly Entry[], days: Days): Plan | null {
  const { shop, replayed, factors, clockMs } = known;
  const pace = paceOf(shop, entries, clockMs, days);
  if (!pace) return null;
  const outlook = outlookOf(known, { pace, days });
  const load = meanLoad(replayed, shop)?.load;
  const limits =
    outlook && load
      ? limitsAhead(shop, { baths: replayed.baths, factors }, load, {
          clockMs,
          pace,
          days,
          within: NEAR_DAYS,
        })
      : shop.tubs.map(() => null);
  const left = outlook?.days ?? null;
  return {
    pace,
    outlook,
    days: left,
    on: left && dayOf(clockMs, left.p50, days),
    limits,
    rest: restOf(pace, days.weekday(clockMs)),
  };
}

function dayOf(clockMs: number, ahead: number, days: Days): Plan['on'] {
  const atMs = clockMs + ahead * MS_PER_DAY;
  return { weekday: days.weekday(atMs), midnights: midnightsTo(atMs, clockMs, days) };
}

function midnightsTo(atMs: number, clockMs: number, days: Days): number {
  return Math.round((days.startOf(atMs) - days.startOf(clockMs)) / MS_PER_DAY);
}

function restOf({ loads, today: laterToday }: Pace, today: number): Rest | null {
  const isOff = (weekday: number) => loads[weekday % 7]! < HARDLY_ANY;
  if (!loads.some((_, weekday) => isOff(weekday))) return null;
  if (loads.every((_, weekday) => isOff(weekday))) return null;
  let startsIn = 0;
  let loadsBefore = isOff(today) ? 0 : laterToday;
  while (!isOff(today + startsIn)) {
    startsIn += 1;
    if (!isOff(today + startsIn)) loadsBefore += loads[(today + startsIn) % 7]!;
  }
  let endsIn = startsIn;
  while (isOff(today + endsIn)) endsIn += 1;
  return { loadsBefore, startsIn, endsIn, first: (today + startsIn) % 7, back: (today + endsIn) % 7 };
}
