/**
 * Times as people type them, in the shop's zone: RFC 3339, "2026-11-20 17:30", "17:30", or words.
 */
import { parseTime } from '../ledger/time.ts';
import { isLedgerYear, LEDGER_YEARS } from './clock.ts';
import { type Fault, usage } from './fault.ts';

const DATE_AND_TIME = /^(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{1,2}):(\d{2})(?::(\d{2}))?)?$/;
const WEEK_MS = 7 * 86_400_000;
const TIME = /^(\d{1,2}):(\d{2})$/;

/**
 * Reads a time against a clock. A time of day alone is today's, unless that lies ahead: then it is refused by those
 * who want the past.
 *
 * @param dayAlone - "yesterday" without a time of day: its first moment, or refused, since nobody means this minute
 * @throws Fault, usage, when any part of the text is not understood
 */
export async function readWhen(
  text: string,
  nowMs: number,
  dayAlone: 'starts' | 'refused' = 'refused',
): Promise<number> {
  const typed = text.trim();
  const ms = await understood(text, typed, { nowMs, dayAlone });
  const year = new Date(ms).getFullYear();
  if (!isLedgerYear(year)) throw outOfYears(text, year);
  return ms;
}

function outOfYears(text: string, year: number): Fault {
  return usage(
    `Cannot take "${text}" as a time, the year is ${year}, allowed is ${LEDGER_YEARS}`,
    'write the year as in 2026-11-20',
  );
}

async function understood(
  text: string,
  typed: string,
  { nowMs, dayAlone }: { nowMs: number; dayAlone: 'starts' | 'refused' },
): Promise<number> {
  const exact = parseTime(typed);
  if (!Number.isNaN(exact)) return exact;
  const local = localTime(typed, nowMs);
  if (local !== undefined) return local;
  const year = /^(\d{4})-\d/.exec(typed)?.[1];
  if (year && !isLedgerYear(Number(year))) throw outOfYears(text, Number(year));
  const words = isWords(typed) ? await inWords(typed, nowMs, dayAlone) : undefined;
  if (words !== undefined) return words;
  throw usage(
    `Cannot read "${text}" as a time`,
    'write 17:30, "yesterday 17:30", "2 hours ago", 2026-11-20 or 2026-11-20T17:30:00-04:00',
  );
}

function localTime(text: string, nowMs: number): number | undefined {
  const clock = TIME.exec(text);
  if (clock) {
    const now = new Date(nowMs);
    return valid(now.getFullYear(), now.getMonth(), now.getDate(), Number(clock[1]), Number(clock[2]), 0);
  }
  const full = DATE_AND_TIME.exec(text);
  if (!full) return undefined;
  const [year, month, date, hour, minute, second] = full.slice(1).map((part) => Number(part ?? 0));
  return valid(year!, month! - 1, date!, hour!, minute!, second!);
}

/** Local fields to an instant; undefined when there is no such day or hour, as when clocks go forward. */
function valid(
  year: number,
  month: number,
  date: number,
  hour: number,
  minute: number,
  second: number,
): number | undefined {
  const at = new Date(year, month, date, hour, minute, second);
  const isDay = at.getFullYear() === year && at.getMonth() === month && at.getDate() === date;
  return isDay && at.getHours() === hour && minute < 60 && second < 60 ? at.getTime() : undefined;
}

/** Dates in digits that are not the usual form are never guessed at: 11/12 is two days, and 2026-13-01 none. */
function isWords(text: string): boolean {
  return /[a-z]/i.test(text) && !/\d[/.-]\d/.test(text);
}

/** Words through chrono; nothing may be left over, so that half a sentence is never taken for a time. */
async function inWords(
  text: string,
  nowMs: number,
  dayAlone: 'starts' | 'refused',
): Promise<number | undefined> {
  const { parse } = await import('chrono-node/en');
  const [found, ...more] = parse(text, new Date(nowMs));
  if (!found || more.length > 0 || found.text.trim().length < text.length) return undefined;
  const day = found.start.date();
  if (!found.start.isCertain('hour') && !/^now$|\bago$/i.test(text)) {
    if (dayAlone === 'refused')
      throw usage(`Cannot tell the time of day in "${text}"`, `Add it: "${text} 17:30"`);
    day.setHours(0, 0, 0, 0);
  }
  const ms = day.getTime();
  const weekdayAhead = ms > nowMs && found.start.isCertain('weekday') && !found.start.isCertain('day');
  return weekdayAhead ? ms - WEEK_MS : ms;
}
