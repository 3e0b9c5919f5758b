/**
 * Days to come as people type them: 2026-12-31, "end of year", "6 weeks", "in 3 months", "31 December".
 */
import { localDays } from './days.ts';
import { usage } from './fault.ts';
import { readWhen } from './when.ts';

/** Further nobody plans, and no habit lasts. */
const MOST_YEARS = 5;

const END_OF = /^(?:the )?end of (?:the |this )?(week|month|year)$/;
const SPAN = /^(?:in )?(an?|\d+) ?(days?|d|weeks?|w|months?|years?|y)$/;

/**
 * The end of the day that is meant.
 *
 * @throws Fault, usage, when it is not understood, is over, or lies more than five years ahead
 */
export async function readUntil(text: string, nowMs: number): Promise<number> {
  const typed = text.trim().toLowerCase();
  const dayMs = endOf(typed, nowMs) ?? after(typed, nowMs) ?? (await named(text.trim(), nowMs));
  if (dayMs === undefined)
    throw usage(
      `Cannot read "${text}" as a day`,
      'write 2026-12-31, "31 December", "end of year", "6 weeks" or "in 3 months"',
    );
  const endMs = localDays.next(localDays.startOf(dayMs));
  const now = new Date(nowMs);
  if (endMs <= nowMs)
    throw usage(`Cannot look ahead until "${text}", that day is over`, 'give a day that is still to come');
  const lastMs = new Date(now.getFullYear() + MOST_YEARS, now.getMonth(), now.getDate()).getTime();
  if (!(dayMs <= lastMs))
    throw usage(
      `Cannot look ahead until "${text}", it is more than ${MOST_YEARS} years ahead`,
      `give a day up to ${MOST_YEARS} years ahead, like --until "in 1 year"`,
    );
  return endMs;
}

/** The last day of the week, which is its Sunday, of the month or of the year. */
function endOf(text: string, nowMs: number): number | undefined {
  const now = new Date(nowMs);
  const [year, month, date] = [now.getFullYear(), now.getMonth(), now.getDate()];
  switch (END_OF.exec(text)?.[1]) {
    case 'week':
      return new Date(year, month, date + ((7 - now.getDay()) % 7)).getTime();
    case 'month':
      return new Date(year, month + 1, 0).getTime();
    case 'year':
      return new Date(year, 12, 0).getTime();
    default:
      return undefined;
  }
}

/** A span from today; so many months on is the same day of the month, or its last. */
function after(text: string, nowMs: number): number | undefined {
  const [, many = '', unit = ''] = SPAN.exec(text) ?? [];
  if (unit === '') return undefined;
  const number = Number(many.replace(/^an?$/, '1'));
  const now = new Date(nowMs);
  const [year, month, date] = [now.getFullYear(), now.getMonth(), now.getDate()];
  const months = unit.startsWith('m') ? number : unit.startsWith('y') ? 12 * number : 0;
  if (months > 0) {
    const last = new Date(year, month + months + 1, 0).getDate();
    return new Date(year, month + months, Math.min(date, last)).getTime();
  }
  return new Date(year, month, date + number * (unit.startsWith('w') ? 7 : 1)).getTime();
}

/** Digits as everywhere; words that name a day or a weekday, which is then the next one. */
async function named(text: string, nowMs: number): Promise<number | undefined> {
  if (/^\d{4}-/.test(text)) return readWhen(text, nowMs, 'starts').catch(() => undefined);
  if (!/[a-z]/i.test(text) || /\d[/.-]\d/.test(text)) return undefined;
  const { parse } = await import('chrono-node/en');
  const [found, ...more] = parse(text, new Date(nowMs), { forwardDate: true });
  if (!found || more.length > 0 || found.text.trim().length < text.length) return undefined;
  const { start } = found;
  return start.isCertain('day') || start.isCertain('weekday') ? start.date().getTime() : undefined;
}
