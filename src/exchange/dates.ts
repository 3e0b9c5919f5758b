/** Dates as spreadsheets write them, each in one way or refused with both. */
import { daysInMonth, parseTime } from '../ledger/time.ts';

export type DateStyle = 'd/m/y' | 'm/d/y' | 'iso';

/** Fields of the wall clock to an instant; undefined where the clock skipped that hour. */
export type LocalTime = (fields: Fields) => number | undefined;

interface Fields extends Day, Clock {}

interface Day {
  year: number;
  /** From 1. */
  month: number;
  day: number;
}

interface Clock {
  hour: number;
  minute: number;
  second: number;
}

export type ReadDate =
  | { ms: number; timed: boolean }
  /** The days it could be. */
  | { either: [string, string] }
  | { message: string; help: string };

/** A day without a time of day is taken as its noon, and the caller is told. */
const NOON: Clock = { hour: 12, minute: 0, second: 0 };

const DAY =
  /^(?:(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})|(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})\.?|(\d{1,2})[ .-]+([a-z]{3,9})\.?[ ,-]+(\d{4})|([a-z]{3,9})\.?\s+(\d{1,2}),?\s+(\d{4}))(?:(?:[T,]|\s)\s*(.+))?$/i;
const CLOCK = /^(\d{1,2})(?:[:.h](\d{2}))?(?:[:.](\d{2})(?:\.\d+)?)?\s*([ap])?\.?(?:m\.?)?$/i;

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

/**
 * Reads a date, or a date and a time of day.
 *
 * @param style - the order of the numbers, where somebody said; else only what can be read in one way is
 * @param clock - the time of day from a cell of its own
 */
export function readDate(
  text: string,
  on: { style: DateStyle | undefined; local: LocalTime; clock?: string | undefined },
): ReadDate {
  const typed = text.trim();
  const exact = parseTime(typed);
  if (!Number.isNaN(exact)) return { ms: exact, timed: true };
  const found = DAY.exec(typed);
  const clockText = on.clock?.trim() || found?.[13]?.trim();
  const clock = clockText ? clockOf(clockText) : NOON;
  if (!found || !clock) return unreadable([typed, on.clock?.trim()].filter(Boolean).join(' '));
  const [first, ...others] = daysOf(found, on.style).filter(isDay);
  if (!first) return noSuchDay(typed, on.style);
  const other = others.find((one) => !isSame(first, one));
  if (other) return { either: [dayWords(first), dayWords(other)] };
  const ms = on.local({ ...first, ...clock });
  return ms === undefined
    ? { message: `Cannot find the time "${typed}", clocks went forward then`, help: 'give the time after it' }
    : { ms, timed: clockText !== undefined && clockText !== '' };
}

/** Every day the text can mean in this style. */
function daysOf(found: RegExpExecArray, style: DateStyle | undefined): Day[] {
  const at = (place: number): number => Number(found[place]);
  if (found[1] !== undefined) return [{ year: at(1), month: at(2), day: at(3) }];
  if (found[8] !== undefined) return [{ year: at(9), month: monthOf(found[8]), day: at(7) }];
  if (found[10] !== undefined) return [{ year: at(12), month: monthOf(found[10]), day: at(11) }];
  const short = found[6]!.length === 2;
  const year = short ? 2000 + at(6) : at(6);
  const dayFirst: Day = { year, month: at(5), day: at(4) };
  const monthFirst: Day = { year, month: at(4), day: at(5) };
  switch (style) {
    case 'd/m/y':
      return [dayFirst];
    case 'm/d/y':
      return [monthFirst];
    case 'iso':
      return [];
    case undefined:
      // Two digits of a year can also come first.
      return short
        ? [dayFirst, monthFirst, { year: 2000 + at(4), month: at(5), day: at(6) }]
        : [dayFirst, monthFirst];
    default:
      return style satisfies never;
  }
}

/** From 1; 0 for a word that is no month. */
function monthOf(word: string): number {
  const short = word.toLowerCase();
  return MONTHS.findIndex((month) => month.toLowerCase().startsWith(short)) + 1;
}

function isDay({ year, month, day }: Day): boolean {
  return (
    month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month) && year >= 2000 && year < 2200
  );
}

function isSame(one: Day, other: Day): boolean {
  return one.year === other.year && one.month === other.month && one.day === other.day;
}

function clockOf(text: string): Clock | undefined {
  const [whole, hours, minutes, seconds, half] = CLOCK.exec(text) ?? [];
  if (whole === undefined || (minutes === undefined && half === undefined)) return undefined;
  const twelve = half?.toLowerCase();
  const hour = Number(hours);
  if (twelve && (hour < 1 || hour > 12)) return undefined;
  const clock = {
    hour: twelve ? (hour % 12) + (twelve === 'p' ? 12 : 0) : hour,
    minute: Number(minutes ?? 0),
    second: Number(seconds ?? 0),
  };
  return clock.hour < 24 && clock.minute < 60 && clock.second < 60 ? clock : undefined;
}

/** 3 April 2026. */
function dayWords({ year, month, day }: Day): string {
  return `${day} ${MONTHS[month - 1]} ${year}`;
}

function unreadable(text: string): ReadDate {
  const short = text.length > 40 ? `${text.slice(0, 39)}…` : text;
  return {
    message: `Cannot read "${short}" as a time`,
    help: 'write it like 2026-11-20 17:30, or say how it is written: --date-style d/m/y',
  };
}

function noSuchDay(text: string, style: DateStyle | undefined): ReadDate {
  return {
    message: `Cannot find the day "${text}"${style === undefined ? '' : ` in the style ${style}`}`,
    help: style === undefined ? 'correct the date' : 'correct the date, or give another --date-style',
  };
}
