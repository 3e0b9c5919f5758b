/**
 * The time axis of a chart: a rule with ticks, and dates under them.
 */
import { columnOf, type Frame } from './chart-frame.ts';

export interface Mark {
  column: number;
  text: string;
}

const MS_PER_DAY = 86_400_000;
/** Days from one date to the next. */
const STRIDES = [1, 2, 7, 14, 28, 56, 112];
const GAP = 2;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/**
 * Today, and dates to both sides as close as they can be read: each day or every other, else Mondays.
 *
 * @param midnights - in the frame
 * @param day - a day in words, like Fri 2026-11-20
 */
export function marksOf(frame: Frame, midnights: readonly number[], day: (ms: number) => string): Mark[] {
  const now = { column: columnOf(frame, frame.nowMs), text: 'today' };
  const perDay = (frame.columns / (frame.toMs - frame.fromMs)) * MS_PER_DAY;
  const stride = STRIDES.find((days) => days * perDay >= 'Nov 20'.length + GAP) ?? STRIDES.at(-1)!;
  const mondays = midnights.filter((ms) => day(ms).startsWith('Mon'));
  const chosen =
    stride < 7
      ? midnights.filter((_, at) => at % stride === 0)
      : mondays.filter((_, at) => at % (stride / 7) === 0);
  const marks = [now];
  for (const ms of chosen) {
    const mark = { column: columnOf(frame, ms), text: shortDay(day(ms)) };
    if (marks.every((other) => isApart(spanOf(mark, frame), spanOf(other, frame)))) marks.push(mark);
  }
  return marks.sort((one, other) => one.column - other.column);
}

/** Fri 2026-11-20 as Nov 20. */
function shortDay(day: string): string {
  const [, month, date] = day.split('-');
  return `${MONTHS[Number(month) - 1]} ${Number(date)}`;
}

/** Columns that a date takes: in the middle under its tick, and within the frame. */
function spanOf({ column, text }: Mark, { columns }: Frame): [number, number] {
  const start = Math.max(0, Math.min(columns - text.length, column - Math.floor((text.length - 1) / 2)));
  return [start, start + text.length];
}

function isApart(one: [number, number], other: [number, number]): boolean {
  return one[0] >= other[1] + GAP || other[0] >= one[1] + GAP;
}

/** The rule under the chart. */
export function ruleOf(frame: Frame, marks: readonly Mark[], glyphs: { rule: string; tick: string }): string {
  const ticks = new Set(marks.map(({ column }) => column));
  return Array.from({ length: frame.columns }, (_, column) =>
    ticks.has(column) ? glyphs.tick : glyphs.rule,
  ).join('');
}

/** The dates under it. */
export function datesOf(frame: Frame, marks: readonly Mark[]): string {
  return marks.reduce((line, mark) => line.padEnd(spanOf(mark, frame)[0]) + mark.text, '');
}
