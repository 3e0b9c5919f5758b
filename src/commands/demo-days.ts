/** The days of the sample shop, moved by whole weeks so that its last day lies in the week before now. */
import { parseTime } from '../ledger/time.ts';
import { rfc3339 } from './clock.ts';

const TIME = /\b(at|logged): (\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2}):(\d{2})[^\s,}]*/g;
const WEEK_MS = 7 * 86_400_000;

export interface DemoDays {
  text: string;
  /** The last time of an event. */
  lastMs: number;
}

/** Weekdays and times of day stay as they are; the offset is the one the shop's zone, already set, has on the new day. */
export function moveDays(text: string, nowMs: number): DemoDays {
  const weeks = Math.floor((nowMs - latest(text)) / WEEK_MS);
  const moved = text.replaceAll(TIME, (_, key, year, month, day, hour, minute, second) => {
    const at = new Date(+year, +month - 1, +day + 7 * weeks, +hour, +minute, +second);
    return `${key}: ${rfc3339(at.getTime())}`;
  });
  return { text: moved, lastMs: latest(moved) };
}

function latest(text: string): number {
  const times = [...text.matchAll(TIME)].map(([found]) => parseTime(found.slice(found.indexOf(' ') + 1)));
  return Math.max(...times);
}
