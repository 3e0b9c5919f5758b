/**
 * Times as people type them, in the shop's zone: RFC 3339, "2026-11-20 17:30", "17:30", or words.
 */
import { parseTime } from '../ledger/time.ts';
import { isLedgerYear, LEDGER_YEARS, readable, rfc3339 } from './clock.ts';
import { type Fault, usage } from './fault.ts';
import { momentsOf, skipped, type WallTime, wallTimeAt } from './wall-clock.ts';

const DATE_AND_TIME = /^(\d{4})-(\d{2})-(\d{2})(?:[T ](\d{1,2}):(\d{2})(?::(\d{2}))?)?$/;
const TIME = /^(\d{1,2}):(\d{2})$/;
/** With the difference to UTC, as it is written where the clock showed one time twice. */
const TIME_AND_OFFSET = /^(?:(\d{4}-\d{2}-\d{2})[T ])?(\d{1,2}):(\d{2})(?::(\d{2}))?(Z|[+-]\d{2}:\d{2})$/;

type DayAlone = 'starts' | 'refused' | 'past';

/**
 * Reads a time against a clock. A time of day alone is today's, unless that lies ahead: then it is refused by those
 * who want the past.
 *
 * @param dayAlone - "yesterday" without a time of day: its first moment, or refused, since nobody means this minute; "past": refused
 *   with an example that has been
 * @throws Fault, usage, when any part of the text is not understood, the clocks were changed over that time, or the year is none
 *   that a ledger holds
 */
export async function readWhen(text: string, nowMs: number, dayAlone: DayAlone = 'refused'): Promise<number> {
  const ms = await understood(text, nowMs, dayAlone);
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

async function understood(text: string, nowMs: number, dayAlone: DayAlone): Promise<number> {
  const typed = text.trim();
  const exact = withOffset(typed, nowMs);
  if (exact !== undefined) return exact;
  const wall = wallTime(typed, nowMs);
  const year = /^(\d{4})-\d/.exec(typed)?.[1];
  if (year && !isLedgerYear(Number(year))) throw outOfYears(text, Number(year));
  const local = wall && momentOf(wall, typed);
  if (local !== undefined) return local;
  const words = isWords(typed)
    ? await (await import('./when-words.ts')).readWords(typed, nowMs, dayAlone)
    : undefined;
  const meant = words && ('wall' in words ? momentOf(words.wall, typed) : words.ms);
  if (meant !== undefined) return meant;
  throw usage(
    `Cannot read "${text}" as a time`,
    'write 17:30, "yesterday 17:30", "2 hours ago", 2026-11-20 or 2026-11-20T17:30:00-04:00',
  );
}

/** Whether a time was typed with its day, so that nothing had to be understood. */
export function isExactTime(text: string): boolean {
  const typed = text.trim();
  return !Number.isNaN(parseTime(typed)) || /^\d{4}-\d{2}-\d{2}[T ]/.test(typed);
}

function withOffset(text: string, nowMs: number): number | undefined {
  const exact = parseTime(text);
  if (!Number.isNaN(exact)) return exact;
  const [, day, hour, minute, second = '00', offset] = TIME_AND_OFFSET.exec(text) ?? [];
  if (hour === undefined) return undefined;
  const ms = parseTime(
    `${day ?? rfc3339(nowMs).slice(0, 10)}T${hour.padStart(2, '0')}:${minute}:${second}${offset}`,
  );
  return Number.isNaN(ms) ? undefined : ms;
}

function wallTime(text: string, nowMs: number): WallTime | undefined {
  const clock = TIME.exec(text);
  if (clock) return { ...wallTimeAt(nowMs), hour: Number(clock[1]), minute: Number(clock[2]), second: 0 };
  const full = DATE_AND_TIME.exec(text);
  if (!full) return undefined;
  const [year, month, day, hour, minute, second] = full.slice(1).map((part) => Number(part ?? 0));
  return { year: year!, month: month!, day: day!, hour: hour!, minute: minute!, second: second! };
}

/** @throws Fault, usage, where the clocks skipped it or showed it twice; undefined when there is no such day or hour */
function momentOf(wall: WallTime, text: string): number | undefined {
  const [first, second] = momentsOf(wall);
  const instead = first === undefined ? skipped(wall) : undefined;
  if (instead !== undefined) {
    throw usage(
      `Cannot use "${text}" as a time, the clocks went forward over it`,
      `the clock showed ${readable(instead)} then; write that if it is meant`,
    );
  }
  if (second !== undefined) {
    throw usage(
      `Cannot tell which "${text}" is meant, the clock showed it twice that night`,
      `write ${rfc3339(first!)} for the first or ${rfc3339(second)} for the second`,
    );
  }
  return first;
}

/** Dates in digits that are not the usual form are never guessed at: 11/12 is two days, and 2026-13-01 none. */
function isWords(text: string): boolean {
  return /[a-z]/i.test(text) && !/\d[/.-]\d/.test(text);
}
