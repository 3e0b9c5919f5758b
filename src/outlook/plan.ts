/**
 * When to act, at the shop's own pace: the date of the change, which bath comes first, and the days off in between.
 */
import { isEmpty } from '../bath/state.ts';
import type { Entry } from '../ledger/event.ts';
import { limitsAhead, type Met } from './ahead.ts';
import { meanLoad } from './mean-load.ts';
import { type Days, type Pace, paceOf } from './pace.ts';
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
  /** Days from the clock to the first limit, at best estimate; null when none is met within a year. */
  days: number | null;
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
 * At best estimate alone: who wants the band of the date asks for the outlook.
 *
 * @param entries - those that were replayed
 * @returns null when nothing was washed in the last 28 days
 */
export function planOf(known: Known, entries: readonly Entry[], days: Days): Plan | null {
  const { shop, clockMs } = known;
  const pace = paceOf(shop, entries, clockMs, days);
  if (!pace) return null;
  const limits = limitsOf(known, pace, days);
  const met = limits.flatMap((limit) => (limit ? [limit.days] : []));
  const left = met.length > 0 ? Math.min(...met) : null;
  return {
    pace,
    days: left,
    on: left === null ? null : dayOf(clockMs, left, days),
    limits,
    rest: restOf(pace, days.weekday(clockMs)),
  };
}

function limitsOf({ shop, replayed, factors, clockMs }: Known, pace: Pace, days: Days): Plan['limits'] {
  const load = meanLoad(replayed, shop)?.load;
  if (!load || load.baths.some((place) => isEmpty(replayed.baths[place]!))) return shop.tubs.map(() => null);
  const from = { baths: replayed.baths, factors };
  return limitsAhead(shop, from, load, { clockMs, pace, days, within: NEAR_DAYS });
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
