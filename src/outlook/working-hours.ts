/** When a shop washes: its weekdays and hours, and moments spread evenly over them. */
import type { Entry } from '../ledger/event.ts';
import type { Days } from './pace.ts';

export interface WorkingHours {
  /** Minutes after midnight. */
  fromMin: number;
  toMin: number;
  /** Sunday first. */
  weekdays: readonly boolean[];
  /** How many washes it was taken from; 0 for what is usual. */
  basis: number;
}

const MS_PER_MINUTE = 60_000;
const WINDOW_MS = 28 * 86_400_000;
/** Fewer washes say little of a day. */
const LEAST_WASHES = 5;
/** A shop that washes at one time of day does so within this, minutes. */
const LEAST_SPAN_MIN = 60;
/** From Monday to Friday, eight to five. Common practice, no source. */
const USUAL: WorkingHours = {
  fromMin: 480,
  toMin: 1020,
  weekdays: [false, true, true, true, true, true, false],
  basis: 0,
};

/** From the washes of the last four weeks: the weekdays that had any, and the hours between which four of five lie. */
export function workingHours(entries: readonly Entry[], clockMs: number, days: Days): WorkingHours {
  const washes = entries.filter(
    ({ event, atMs }) =>
      event.what === 'wash' && !event.estimated && atMs > clockMs - WINDOW_MS && atMs <= clockMs,
  );
  if (washes.length < LEAST_WASHES) return USUAL;
  const minutes = washes
    .map(({ atMs }) => (atMs - days.startOf(atMs)) / MS_PER_MINUTE)
    .sort((one, other) => one - other);
  const at = (share: number) => minutes[Math.round(share * (minutes.length - 1))]!;
  const [first, last] = [at(0.1), at(0.9)];
  const missing = Math.max(0, LEAST_SPAN_MIN - (last - first)) / 2;
  const on = new Set(washes.map(({ atMs }) => days.weekday(atMs)));
  return {
    fromMin: Math.max(0, first - missing),
    toMin: Math.min(1440, last + missing),
    weekdays: Array.from({ length: 7 }, (_, weekday) => on.has(weekday)),
    basis: washes.length,
  };
}

interface Span {
  fromMs: number;
  toMs: number;
}

/** The hours of a time in which a shop washes, and which they are. */
export interface Shifts {
  spans: Span[];
  of: 'working days' | 'every day' | 'the whole time';
}

/** Those of working days; of every day where none of these lies in it; the whole time where no such hour does. */
export function shiftsIn(span: Span, hours: WorkingHours, days: Days): Shifts {
  const working = workedBetween(span, hours, days);
  if (working.length > 0) return { spans: working, of: 'working days' };
  const daily = workedBetween(span, { ...hours, weekdays: hours.weekdays.map(() => true) }, days);
  return daily.length > 0 ? { spans: daily, of: 'every day' } : { spans: [span], of: 'the whole time' };
}

/** So many moments between two, each in the middle of an equal share of the {@link shiftsIn} between them. Whole minutes, in order. */
export function spreadEvenly(count: number, span: Span, hours: WorkingHours, days: Days): number[] {
  const { spans: pieces } = shiftsIn(span, hours, days);
  const allMs = pieces.reduce((sum, { fromMs, toMs }) => sum + toMs - fromMs, 0);
  return Array.from({ length: count }, (_, place) => {
    let restMs = ((place + 0.5) / count) * allMs;
    const piece = pieces.find(({ fromMs, toMs }) => {
      const isIn = restMs < toMs - fromMs;
      if (!isIn) restMs -= toMs - fromMs;
      return isIn;
    })!;
    const ms = Math.floor((piece.fromMs + restMs) / MS_PER_MINUTE) * MS_PER_MINUTE;
    return Math.max(ms, Math.ceil(span.fromMs / 1000) * 1000);
  });
}

function workedBetween(span: Span, { fromMin, toMin, weekdays }: WorkingHours, days: Days): Span[] {
  const pieces: Span[] = [];
  for (let startMs = days.startOf(span.fromMs); startMs < span.toMs; startMs = days.next(startMs)) {
    if (!weekdays[days.weekday(startMs)]) continue;
    const fromMs = Math.max(span.fromMs, startMs + fromMin * MS_PER_MINUTE);
    const toMs = Math.min(span.toMs, startMs + toMin * MS_PER_MINUTE);
    if (toMs > fromMs) pieces.push({ fromMs, toMs });
  }
  return pieces;
}
