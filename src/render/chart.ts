/**
 * Resin over time in each bath, as text: the days behind, today, and the days ahead to the late end of the date.
 */
import type { Shop } from '../bath/shop.ts';
import type { Moment } from '../outlook/trail.ts';
import { datesOf, type Mark, marksOf, ruleOf } from './chart-dates.ts';
import { type Frame, frameOf } from './chart-frame.ts';
import { type Cell, gridOf, type Point, valueAt } from './chart-grid.ts';
import { rowOf, type Scale, scaleOf } from './chart-scale.ts';
import { banded, trim } from './format.ts';
import type { Paint } from './paint.ts';
import { wrap } from './wrap.ts';

export interface ChartView {
  shop: Pick<Shop, 'tubs'>;
  past: readonly Moment[];
  /** From the clock on. */
  ahead: readonly Moment[];
  /** A day in words, like Fri 2026-11-20. */
  day(ms: number): string;
  width: number;
  paint: Paint;
  /** Whether only ASCII can be shown. */
  ascii: boolean;
}

type Glyphs = Record<Cell | 'rule' | 'tick', string>;

const UNICODE: Glyphs = {
  blank: ' ',
  band: '░',
  best: '•',
  limit: '╌',
  'limit-in-band': '▒',
  today: '┊',
  rule: '─',
  tick: '┴',
};
const ASCII: Glyphs = {
  blank: ' ',
  band: ':',
  best: 'o',
  limit: '-',
  'limit-in-band': '=',
  today: '|',
  rule: '_',
  tick: '|',
};

const ROWS = 9;
/** Numbers on the left, and a blank. */
const MARGIN = 6;

/** A chart for each bath that holds solvent, twelve lines each, and a line that explains the signs. */
export function chartText(view: ChartView): string {
  const { ahead, shop, paint, width } = view;
  const baths = shop.tubs
    .map((tub, place) => ({ tub, points: pointsOf(view, place) }))
    .filter(({ points }) => points.length > 0);
  if (baths.length === 0) return '';
  const frame = frameOf({
    firstMs: Math.min(...baths.map(({ points }) => points[0]!.atMs)),
    nowMs: ahead[0]!.atMs,
    lastMs: ahead.at(-1)!.atMs,
    room: width - MARGIN,
  });
  const marks = marksOf(frame, midnightsOf(view, frame), view.day);
  const charts = baths.map(({ tub, points }) =>
    oneChart({ name: tub.name, limit: tub.limits.resin[1], points, frame, marks }, view),
  );
  return [...charts, paint.faint(legend(glyphsOf(view)))].join('\n\n');
}

function pointsOf({ past, ahead }: ChartView, place: number): Point[] {
  return [...past, ...ahead].flatMap(({ atMs, resinWtPct }) => {
    const value = resinWtPct[place];
    return value ? [{ atMs, value }] : [];
  });
}

/** Every moment is a midnight but for changes and the clock, which are told by the time of day that the others share. */
function midnightsOf({ past, ahead, day }: ChartView, { fromMs }: Frame): number[] {
  return [...past, ...ahead]
    .map(({ atMs }) => atMs)
    .filter((atMs) => atMs >= fromMs && day(atMs) !== day(atMs - 1));
}

interface OneBath {
  name: string;
  limit: number;
  points: readonly Point[];
  frame: Frame;
  marks: readonly Mark[];
}

function oneChart({ name, limit, points, frame, marks }: OneBath, view: ChartView): string {
  const shown = points.filter(({ atMs }) => atMs >= frame.fromMs);
  const highest = {
    best: Math.max(...shown.map(({ value }) => value.p50)),
    band: Math.max(...shown.map(({ value }) => value.p95 ?? value.p50)),
  };
  const scale = scaleOf(ROWS, limit, highest);
  const grid = gridOf(points, limit, frame, scale);
  const glyphs = glyphsOf(view);
  const { paint } = view;
  const now = valueAt(points, frame.nowMs);
  const today = now ? `: today ${view.ascii ? banded(now).replace('–', '-') : banded(now)}` : '';
  const title = `${name} bath, wt% resin${today}, change at ${trim(limit, 2)}`;
  const indent = ' '.repeat(MARGIN);
  return [
    paint.strong(wrap(title, view.width)),
    ...grid.map((cells, fromTop) => {
      const label = labelOf(scale, limit, ROWS - 1 - fromTop);
      return `${paint.faint(label.padStart(MARGIN - 1))} ${painted(cells, glyphs, paint)}`.trimEnd();
    }),
    indent + paint.faint(ruleOf(frame, marks, glyphs)),
    indent + paint.faint(datesOf(frame, marks)),
  ].join('\n');
}

/** Numbers at the bottom, the limit and the top. */
function labelOf(scale: Scale, limit: number, row: number): string {
  if (row === rowOf(scale, limit)) return trim(limit, 2);
  const value = row * scale.step;
  return row === 0 || row === scale.rows - 1 ? trim(value, value < 10 ? 2 : 1) : '';
}

function painted(cells: readonly Cell[], glyphs: Glyphs, paint: Paint): string {
  let line = '';
  for (let from = 0; from < cells.length; ) {
    const cell = cells[from]!;
    let to = from + 1;
    while (cells[to] === cell) to += 1;
    const text = glyphs[cell].repeat(to - from);
    line += cell === 'best' ? paint.strong(text) : cell === 'blank' ? text : paint.faint(text);
    from = to;
  }
  return line;
}

function glyphsOf({ ascii }: ChartView): Glyphs {
  return ascii ? ASCII : UNICODE;
}

function legend(glyphs: Glyphs): string {
  return `      ${glyphs.best} best estimate  ${glyphs.band} 5 to 95 %  ${glyphs.limit} change limit  ${glyphs.today} today`;
}
