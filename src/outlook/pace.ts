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
  /** Loads that are still to come today, as on days of this weekday after this time of day. */
  today: number;
  /** What washes a day bring scatters by this, relative to the mean of a day on which there are any. */
  readonly dayScatter: number;
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
  const counted = daysOf(entries, clockMs, days);
  const worked = counted.filter(({ loads }) => loads > 0);
  if (worked.length === 0) return null;
  const usual = (weekday: number, of: (day: Day) => number) => {
    const same = counted.filter((day) => day.weekday === weekday);
    if (same.length > 0) return meanOf(same, of);
    return isWorkday(weekday) ? meanOf(counted, of) : 0;
  };
  const loads = Array.from({ length: 7 }, (_, weekday) => usual(weekday, (day) => day.loads));
  let scatter: number | undefined;
  return {
    loads,
    today: usual(days.weekday(clockMs), (day) => day.later),
    get dayScatter() {
      scatter ??= relativeSpread(worked.map(({ washes }) => carryOfAll(washes, shop)));
      return scatter;
    },
    basisDays: worked.length,
    perWeek: loads.reduce((sum, one) => sum + one, 0),
  };
}

function meanOf(list: readonly Day[], of: (day: Day) => number): number {
  return list.reduce((sum, day) => sum + of(day), 0) / list.length;
}

/** From Monday to Friday. */
function isWorkday(weekday: number): boolean {
  return weekday > 0 && weekday < 6;
}

/** The same number of loads on the days that the shop's own pace has loads on; from Monday to Friday where that is not known. */
export function givenPace(perDay: number, own: Pace | null, on: { clockMs: number; days: Days }): Pace {
  const loads = Array.from({ length: 7 }, (_, weekday) =>
    (own ? own.loads[weekday]! > 0 : isWorkday(weekday)) ? perDay : 0,
  );
  const weekday = on.days.weekday(on.clockMs);
  const usual = own?.loads[weekday] ?? 0;
  const later = usual > 0 ? own!.today / usual : shareLeft(on.clockMs, on.days);
  return {
    loads,
    today: later * loads[weekday]!,
    dayScatter: 0,
    basisDays: 0,
    perWeek: loads.reduce((sum, one) => sum + one, 0),
  };
}

/** Of the hours from six to six. Common practice, no source. */
function shareLeft(clockMs: number, days: Days): number {
  const hour = (clockMs - days.startOf(clockMs)) / 3_600_000;
  return Math.min(1, Math.max(0, (18 - hour) / 12));
}

interface Day {
  weekday: number;
  loads: number;
  /** Of them, those later in the day than it is now. */
  later: number;
  washes: readonly WashEvent[];
}

function daysOf(entries: readonly Entry[], clockMs: number, days: Days): Day[] {
  const today = days.startOf(clockMs);
  const isWash = ({ event }: Entry) => event.what === 'wash';
  const first = entries.find(isWash);
  if (!first) return [];
  const washes = lately(entries, today).filter(isWash);
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
      later: own.filter(({ atMs }) => atMs - startMs > clockMs - today).length,
      washes: own.map(({ event }) => event as WashEvent),
    });
  }
  return counted;
}

/** The entries of the days that count, and perhaps a few before: a ledger is long. */
function lately(entries: readonly Entry[], today: number): readonly Entry[] {
  const fromMs = today - (WINDOW_DAYS + 2) * 86_400_000;
  const before = entries.findLastIndex(({ atMs }) => atMs < fromMs);
  return entries.slice(before + 1);
}

function startsBefore(today: number, days: Days, firstMs: number): number[] {
  const starts: number[] = [];
  for (let back = today; starts.length < WINDOW_DAYS && back > firstMs; ) {
    back = days.startOf(back - 12 * 3_600_000);
    starts.push(back);
  }
  return starts;
}

/** Film at factor 1, g. Asked for by what needs a band alone, since it takes as long as replaying the washes. */
function carryOfAll(washes: readonly WashEvent[], shop: Shop): number {
  return washes.reduce((sum, wash) => sum + carryOf(loadOf(wash, shop)), 0);
}

function carryOf(load: Load): number {
  return load.givenCarryG ?? load.filmG * (1 - load.prerinseShare) + load.trappedG;
}

/** What days bring in a shop that is not known yet scatters by this, and counts for so many days. Engineering guess, no source. */
const USUAL_SCATTER = 0.5;
const USUAL_DAYS = 2;

/**
 * Standard deviation over mean, drawn towards the usual while days are few.
 *
 *     sqrt( [Σ (y/ȳ − 1)² + 2 × 0.5²] / (n − 1 + 2) )
 *
 * Example: one day, 0.5; twenty days alike, 0.15.
 */
function relativeSpread(values: readonly number[]): number {
  const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
  if (!(mean > 0)) return USUAL_SCATTER;
  const squares = values.reduce((sum, one) => sum + (one / mean - 1) ** 2, 0);
  return Math.sqrt((squares + USUAL_DAYS * USUAL_SCATTER ** 2) / (values.length - 1 + USUAL_DAYS));
}
