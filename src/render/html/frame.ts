/**
 * The frame of a chart: its scales, its axes, and what a reader is told who does not see it.
 */
import { type ScaleLinear, type ScaleTime, scaleLinear, scaleTime } from 'd3-scale';
import { timeDay, timeMonday, timeMonth, timeYear } from 'd3-time';
import { timeFormat } from 'd3-time-format';
import { element, type Markup } from './markup.ts';

/** In units of the drawing, which is as wide as the column it stands in. */
export const SIZE = { width: 440, height: 212, left: 46, top: 30, bottom: 184 } as const;
/** Where the curves end: with room for the names of limits, and without. */
export const RIGHT = { named: 348, bare: 430 } as const;

export interface Frame {
  /** Names what belongs to this chart alone. */
  id: string;
  x: ScaleTime<number, number>;
  y: ScaleLinear<number, number>;
  nowMs: number;
  /** What the line at the end of the period is called. */
  nowWord: string;
  /** Where the curves end. */
  right: number;
}

export function frameOf(given: {
  id: string;
  fromMs: number;
  toMs: number;
  nowMs: number;
  nowWord: string;
  top: number;
  right: number;
}): Frame {
  const { id, fromMs, toMs, nowMs, nowWord, top, right } = given;
  const x = scaleTime([new Date(fromMs), new Date(toMs)], [SIZE.left, right]);
  const y = scaleLinear([0, top], [SIZE.bottom, SIZE.top]);
  return { id, x, y, nowMs, nowWord, right };
}

/** A drawing with its title, its description and its scales as data, so that it can be read back. */
export function drawing(
  { id, x, y }: Frame,
  words: { title: string; desc: string },
  ...children: (Markup | Markup[] | null)[]
): Markup {
  const ends = (values: readonly number[]) => values.map((value) => String(value)).join(' ');
  return element(
    'svg',
    {
      viewBox: `0 0 ${SIZE.width} ${SIZE.height}`,
      role: 'img',
      'aria-labelledby': `${id}-title`,
      'aria-describedby': `${id}-desc`,
      'data-x': ends([...x.domain().map(Number), ...x.range()]),
      'data-y': ends([...y.domain(), ...y.range()]),
    },
    element('title', { id: `${id}-title` }, words.title),
    element('desc', { id: `${id}-desc` }, words.desc),
    ...children,
  );
}

/** Ticks nearer than this cannot be read. */
const TICK_GAP = 56;
const HALF_DATE = 24;
const MS_PER_DAY = 86_400_000;

/** Days, Mondays, firsts of months or years: as close as they can be read. */
const STEPS = [
  { days: 1, every: timeDay, format: '%b %-d' },
  { days: 2, every: timeDay.every(2)!, format: '%b %-d' },
  { days: 7, every: timeMonday, format: '%b %-d' },
  { days: 14, every: timeMonday.every(2)!, format: '%b %-d' },
  { days: 28, every: timeMonday.every(4)!, format: '%b %-d' },
  { days: 91, every: timeMonth.every(3)!, format: '%b %Y' },
  { days: 365, every: timeYear, format: '%Y' },
  { days: 730, every: timeYear.every(2)!, format: '%Y' },
] as const;

/** The rule at the bottom with its dates; the line of today goes through it. */
export function timeAxis({ x, nowMs, nowWord, right }: Frame): Markup {
  const [from, to] = x.domain().map(Number) as [number, number];
  const perDay = ((right - SIZE.left) * MS_PER_DAY) / (to - from);
  const { every, format } = STEPS.find(({ days }) => days * perDay >= TICK_GAP) ?? STEPS.at(-1)!;
  const text = timeFormat(format);
  const now = round(x(new Date(nowMs)));
  const ticks = every
    .range(new Date(from), new Date(to + 1))
    .map((date) => ({ at: round(x(date)), label: text(date) }))
    .filter(({ at }) => Math.abs(centreOf(at, right) - centreOf(now, right)) > TICK_GAP - 4);
  return element(
    'g',
    { class: 'axis' },
    element('path', { d: `M${SIZE.left} ${SIZE.bottom}H${right}` }),
    element('path', { d: ticks.map(({ at }) => `M${at} ${SIZE.bottom}v4`).join('') || undefined }),
    ticks.map(({ at, label }) => dateLabel(at, label, right)),
    dateLabel(now, nowWord, right, 'now'),
  );
}

/** The middle of a date: under its tick, or as near to it as the edge of the drawing lets it. */
function centreOf(at: number, right: number): number {
  return right === RIGHT.bare ? Math.min(at, SIZE.width - HALF_DATE) : at;
}

function dateLabel(at: number, text: string, right: number, kind?: string): Markup {
  const x = centreOf(at, right);
  return element('text', { x, y: SIZE.bottom + 18, 'text-anchor': 'middle', class: kind }, text);
}

/** From here on a number on the left is told in thousands, 10k. */
const THOUSANDS = 10_000;

/** Numbers on the left and light lines at them. */
export function valueAxis({ y, right }: Frame, ticks = 4): Markup {
  const values = y.ticks(ticks);
  const text = y.tickFormat(ticks, y.domain()[1]! < THOUSANDS ? '~f' : '~s');
  return element(
    'g',
    { class: 'axis' },
    element('path', {
      class: 'grid',
      d: values.map((value) => `M${SIZE.left} ${round(y(value))}H${right}`).join(''),
    }),
    values.map((value) =>
      element('text', { x: SIZE.left - 6, y: round(y(value)) + 4, 'text-anchor': 'end' }, text(value)),
    ),
  );
}

/** The end of the period, from the top to the bottom. */
export function nowLine({ x, nowMs }: Frame): Markup {
  return element('path', { class: 'now', d: `M${round(x(new Date(nowMs)))} ${SIZE.top - 4}V${SIZE.bottom}` });
}

/** To a tenth of a unit: finer than a dot of a screen or a printer. */
export function round(value: number): number {
  return Math.round(value * 10) / 10;
}
