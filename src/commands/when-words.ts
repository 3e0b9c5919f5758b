/** Times in words, through chrono. */
import { parse } from 'chrono-node/en';
import { usage } from './fault.ts';
import { type WallTime, wallTimeAt } from './wall-clock.ts';

/** A moment as such, like "2 hours ago"; or what the clock on the wall showed. */
export type InWords = { ms: number } | { wall: WallTime };

/** Parts of a day: what to write instead, as an example. */
const DAY_PARTS: [RegExp, string][] = [
  [/\bmorning\b/i, '8:30'],
  [/\bafternoon\b/i, '14:30'],
  [/\bevening\b|\btonight\b/i, '19:30'],
  [/\bnight\b/i, '22:30'],
];

/**
 * Reads words; nothing may be left over, so that half a sentence is never taken for a time.
 *
 * @param dayAlone - a day without a time of day: its first moment, or refused; "past": refused with one that has been
 * @returns undefined when any part of the text is not understood
 * @throws Fault, usage, where the hour is missing or may be two
 */
export async function readWords(
  text: string,
  nowMs: number,
  dayAlone: 'starts' | 'refused' | 'past',
): Promise<InWords | undefined> {
  const [found, ...more] = parse(text, new Date(nowMs));
  if (!found || more.length > 0 || found.text.trim().length < text.length) return undefined;
  const { start } = found;
  const ms = start.date().getTime();
  if (/^now$|\bago$/i.test(text)) return { ms };
  const wall = weekBack(start.isCertain('weekday') && !start.isCertain('day'), ms, nowMs);
  if (!start.isCertain('hour')) {
    if (dayAlone === 'starts') return { wall: { ...wall, hour: 0, minute: 0, second: 0 } };
    throw dayAlone === 'past' ? noHourPast(text, wall, wallTimeAt(nowMs)) : noHour(text);
  }
  const isHalfDay = !start.isCertain('meridiem') && wall.hour >= 1 && wall.hour <= 12;
  if (isHalfDay && !/:|\bnoon\b|\bmidnight\b|\bmorning\b/i.test(text)) throw halfDay(text, wall.hour % 12);
  return {
    wall: {
      ...wall,
      hour: start.get('hour')!,
      minute: start.get('minute') ?? 0,
      second: start.get('second') ?? 0,
    },
  };
}

/** A weekday that lies ahead is that of the week before. */
function weekBack(isWeekday: boolean, ms: number, nowMs: number): WallTime {
  const wall = wallTimeAt(ms);
  if (!isWeekday || ms <= nowMs) return wall;
  const back = new Date(wall.year, wall.month - 1, wall.day - 7, 12);
  return { ...wall, year: back.getFullYear(), month: back.getMonth() + 1, day: back.getDate() };
}

/** What is logged has been: a day ahead is refused as such, and today's example is no later than now. */
function noHourPast(text: string, wall: WallTime, now: WallTime) {
  const [day, today] = [wall, now].map(({ year, month, day: nth }) => 400 * year + 32 * month + nth);
  if (day! > today!) {
    return usage(
      `Cannot log at "${text}", that is after now`,
      'give a time that has been, like --at "yesterday 17:30"; without --at it is logged for now',
    );
  }
  return noHour(text, day === today ? now.hour : 24);
}

function noHour(text: string, before = 24) {
  const part = DAY_PARTS.find(([words]) => words.test(text));
  const example = part?.[1] ?? '17:30';
  const day = text
    .replace(/\blast night\b/i, 'yesterday')
    .replace(/\btonight\b|\bthis\s+(?=morning|afternoon|evening|night)/i, 'today ')
    .replace(/\b(?:in the |at )?(?:morning|afternoon|evening|night)\b/i, '')
    .replaceAll(/\s+/g, ' ')
    .trim();
  return usage(
    `Cannot tell the time of day in "${text}"`,
    `Add it: "${day || 'today'} ${Number.parseInt(example, 10) < before ? example : `${before}:00`}"`,
  );
}

function halfDay(text: string, hour: number) {
  const day = text.replace(/\s*(?:\bat\s*)?\d{1,2}\s*(?:o'clock)?$/i, '').trim();
  const write = (at: number) => `"${`${day} ${at}:00`.trim()}"`;
  return usage(
    `Cannot tell the time of day in "${text}", it may be ${hour}:00 or ${hour + 12}:00`,
    `write ${write(hour)} or ${write(hour + 12)}`,
  );
}
