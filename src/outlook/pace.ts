/**
 * How much a shop washes: loads a day by weekday, from its last four weeks.
 */
import { type Load, loadOf } from '../bath/load.ts';
import type { Shop } from '../bath/shop.ts';
import type { Entry, WashEvent } from '../ledger/event.ts';

/** The shop's calendar, which knows its zone. */
export interface Days {
  /** Midnight at the start of the day of `ms`. */
  startOf(ms: number): number;
  /** Midnight a day after a midnight; 23 or 25 hours where the clocks change. */
  next(startMs: number): number;
  /** 0 for Sunday to 6. */
  weekday(ms: number): number;
}

export interface Pace {
  /** Loads on a day, by weekday, Sunday first. */
  loads: readonly number[];
  /** What washes a day bring scatters by this, relative to the mean of a day on which there are any. */
  dayScatter: number;
  /** Days with washes among those it was taken from; 0 when it was given. */
  basisDays: number;
  /** Loads a week. */
  perWeek: number;
}

const WINDOW_DAYS = 28;

/**
 * Loads by weekday: the mean over the days of the last 28, from the first wash on, without today. A holiday shows as days
 * without washes, and lowers the pace of its weekday by a quarter. A weekday that a new shop has not seen yet counts like the
 * others from Monday to Friday.
 *
 * @returns null when no wash lies in them
 */
export function paceOf(shop: Shop, entries: readonly Entry[], clockMs: number, days: Days): Pace | null {
  const counted = daysOf(shop, entries, clockMs, days);
  const worked = counted.filter(({ loads }) => loads > 0);
  if (worked.length === 0) return null;
  const mean = (list: readonly Day[]) => list.reduce((sum, day) => sum + day.loads, 0) / list.length;
  const loads = Array.from({ length: 7 }, (_, weekday) => {
    const same = counted.filter((day) => day.weekday === weekday);
    if (same.length > 0) return mean(same);
    return isWorkday(weekday) ? mean(counted) : 0;
  });
  return {
    loads,
    dayScatter: relativeSpread(worked.map(({ carryG }) => carryG)),
    basisDays: worked.length,
    perWeek: loads.reduce((sum, one) => sum + one, 0),
  };
}

/** From Monday to Friday. */
function isWorkday(weekday: number): boolean {
  return weekday > 0 && weekday < 6;
}

/** The same number of loads on the days that the shop's own pace has loads on; from Monday to Friday where that is not known. */
export function givenPace(perDay: number, own: Pace | null): Pace {
  const loads = Array.from({ length: 7 }, (_, weekday) =>
    (own ? own.loads[weekday]! > 0 : isWorkday(weekday)) ? perDay : 0,
  );
  return { loads, dayScatter: 0, basisDays: 0, perWeek: loads.reduce((sum, one) => sum + one, 0) };
}

interface Day {
  weekday: number;
  loads: number;
  /** Film at factor 1, g. */
  carryG: number;
}

function daysOf(shop: Shop, entries: readonly Entry[], clockMs: number, days: Days): Day[] {
  const today = days.startOf(clockMs);
  const washes = entries.filter(({ event }) => event.what === 'wash');
  const first = washes[0];
  if (!first) return [];
  const counted: Day[] = [];
  const starts = startsBefore(today, days, days.startOf(first.atMs));
  // A shop in its first day has no other to go by.
  if (starts.length === 0) starts.push(today);
  for (const startMs of starts) {
    const endMs = days.next(startMs);
    const own = washes.filter(({ atMs }) => atMs >= startMs && atMs < endMs);
    counted.push({
      weekday: days.weekday(startMs),
      loads: own.length,
      carryG: own.reduce((sum, { event }) => sum + carryOf(loadOf(event as WashEvent, shop)), 0),
    });
  }
  return counted;
}

function startsBefore(today: number, days: Days, firstMs: number): number[] {
  const starts: number[] = [];
  for (let back = today; starts.length < WINDOW_DAYS && back > firstMs; ) {
    back = days.startOf(back - 12 * 3_600_000);
    starts.push(back);
  }
  return starts;
}

function carryOf(load: Load): number {
  return load.givenCarryG ?? load.filmG * (1 - load.prerinseShare) + load.trappedG;
}

/** Standard deviation over mean; 0 for fewer than three. */
function relativeSpread(values: readonly number[]): number {
  if (values.length < 3) return 0;
  const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
  const square = values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (values.length - 1);
  return mean > 0 ? Math.sqrt(square) / mean : 0;
}
