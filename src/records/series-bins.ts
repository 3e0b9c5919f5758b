/**
 * A window of time cut into days, weeks, months or years: what bars count, and what tables have a line for.
 */
import type { Days } from '../outlook/pace.ts';

export interface Bin {
  startMs: number;
  endMs: number;
}

export type BinKind = 'day' | 'week' | 'month' | 'year';

const MS_PER_DAY = 86_400_000;
/** More bars or lines than this say no more. */
const MOST = 92;
const MOST_MONTHS = 240;
const DAYS_PER_MONTH = 365.25 / 12;
const MONDAY = 1;
const MONTHS_PER_YEAR = 12;

/** The kind of bin that makes a readable number of them. */
function binKindOf({ fromMs, toMs }: { fromMs: number; toMs: number }): BinKind {
  const days = (toMs - fromMs) / MS_PER_DAY;
  if (days <= MOST) return 'day';
  if (days <= 7 * MOST) return 'week';
  return days <= MOST_MONTHS * DAYS_PER_MONTH ? 'month' : 'year';
}

/**
 * Bins from the one in which the window starts to the one in which it ends, whole ones. Years are twelve months from the first month on.
 *
 * @param monthStartOf - the start of the month of a moment
 */
export function binsOf(
  window: { fromMs: number; toMs: number },
  on: { days: Days; monthStartOf: (ms: number) => number },
): { kind: BinKind; bins: Bin[] } {
  const { days, monthStartOf } = on;
  const kind = binKindOf(window);
  let months = 0;
  const starts = (dayMs: number) => {
    if (kind === 'day') return true;
    if (kind === 'week') return days.weekday(dayMs) === MONDAY;
    if (monthStartOf(dayMs) !== dayMs) return false;
    months += 1;
    return kind === 'month' || months % MONTHS_PER_YEAR === 0;
  };
  const edges = [days.startOf(window.fromMs)];
  let dayMs = edges[0]!;
  while (dayMs < window.toMs || edges.length < 2 || edges.at(-1) !== dayMs) {
    dayMs = days.next(dayMs);
    if (starts(dayMs)) edges.push(dayMs);
  }
  return { kind, bins: edges.slice(1).map((endMs, place) => ({ startMs: edges[place]!, endMs })) };
}

/** Which bin holds a moment, its start in it and its end not; -1 before the first and after the last. */
export function binAt(bins: readonly Bin[], ms: number): number {
  let [low, high] = [0, bins.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (bins[middle]!.endMs > ms) high = middle;
    else low = middle + 1;
  }
  return low < bins.length && bins[low]!.startMs <= ms ? low : -1;
}
