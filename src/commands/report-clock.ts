/** Times as the report tells them, once the zone of the shop is set. */
import { readableWithDay } from './clock.ts';

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** Within so many days before the report a weekday says which. */
const WEEKDAY_TELLS_MS = 6 * 86_400_000;

/** Fri 17:30 in the days before a moment, else with the date. */
export function momentBefore(endMs: number): (ms: number) => string {
  return (ms) => {
    const text = readableWithDay(ms);
    const near = ms <= endMs && endMs - ms < WEEKDAY_TELLS_MS;
    return near ? `${text.slice(0, 3)} ${text.slice(-5)}` : text;
  };
}

/** November 2026. */
export function readableMonth(ms: number): string {
  const at = new Date(ms);
  return `${MONTHS[at.getMonth()]} ${at.getFullYear()}`;
}

/** The start of a moment's month; looked up again only when the month is another one than before. */
export function monthStarts(): (ms: number) => number {
  let [startMs, endMs] = [0, 0];
  return (ms) => {
    if (ms >= startMs && ms < endMs) return startMs;
    const at = new Date(ms);
    startMs = new Date(at.getFullYear(), at.getMonth(), 1).getTime();
    endMs = new Date(at.getFullYear(), at.getMonth() + 1, 1).getTime();
    return startMs;
  };
}
