/**
 * The signs of a chart: what was done to a bath, in a row above the curves, told apart by shape; and readings.
 */
import { symbol, symbolCross, symbolDiamond, symbolSquare, symbolTriangle } from 'd3-shape';
import type { Turn } from '../../records/series.ts';
import type { ReadingPoint } from '../../records/series-readings.ts';
import { dots } from './curves.ts';
import { type Frame, round, SIZE } from './frame.ts';
import { element, type Markup } from './markup.ts';

type Kind = Turn['what'];

/** More signs than this in a row cannot be told apart: top-ups are left out first, then all. */
const MOST_SIGNS = 36;
/** Nor can the bars of more readings. */
const MOST_BARS = 40;
/** Above the curves. */
const ROW = SIZE.top - 12;

const SHAPES: Record<Kind, { type: typeof symbolCross; size: number; turn?: number; hollow?: true }> = {
  fill: { type: symbolTriangle, size: 44, turn: 180 },
  refill: { type: symbolSquare, size: 50 },
  rotate: { type: symbolDiamond, size: 50 },
  'top-up': { type: symbolTriangle, size: 30, turn: 180, hollow: true },
  drain: { type: symbolCross, size: 44 },
};

/** In the order in which a key explains them. */
export const KINDS = Object.keys(SHAPES) as Kind[];

export function sign(kind: Kind, at: { x: number; y: number }): Markup {
  const { type, size, turn, hollow } = SHAPES[kind];
  const turned = turn === undefined ? '' : ` rotate(${turn})`;
  return element('path', {
    class: hollow ? 'sign hollow' : 'sign',
    d: symbol(type, size).digits(2)() ?? '',
    transform: `translate(${round(at.x)} ${round(at.y)})${turned}`,
  });
}

/** Those done to one bath that its chart has room for. */
export function turnsShown(turns: readonly Turn[], bath: number): Turn[] {
  const own = turns.filter(({ baths }) => baths.includes(bath));
  const fewer = own.length <= MOST_SIGNS ? own : own.filter(({ what }) => what !== 'top-up');
  return fewer.length <= MOST_SIGNS ? fewer : [];
}

/** What was done to one bath; what changes all its liquid sends a light line down to the axis. */
export function turnSigns(turns: readonly Turn[], bath: number, { x }: Frame): Markup {
  const shown = turnsShown(turns, bath).map(({ what, atMs }) => ({ what, at: x(new Date(atMs)) }));
  const fresh = shown.filter(({ what }) => what === 'fill' || what === 'refill' || what === 'rotate');
  const lines = fresh.map(({ at }) => `M${round(at)} ${ROW + 5}V${SIZE.bottom}`).join('');
  return element(
    'g',
    { class: 'turns' },
    lines ? element('path', { class: 'turn', d: lines }) : null,
    shown.map(({ what, at }) => sign(what, { x: at, y: ROW })),
  );
}

/** Too many to have a bar each. */
export function areMany(readings: readonly ReadingPoint[]): boolean {
  return readings.length > MOST_BARS;
}

/**
 * A reading: a ring, and a bar of one standard deviation to both sides; crossed out where it is too far off for chance. Many of
 * them are dots.
 */
export function readingSigns(readings: readonly ReadingPoint[], frame: Frame): Markup | null {
  const { x, y } = frame;
  if (areMany(readings)) return dots(readings, 'reading-dots', frame);
  return element(
    'g',
    { class: 'readings' },
    readings.map(({ id, atMs, low, value, high, flagged }) => {
      const at = round(x(new Date(atMs)));
      const [top, middle, bottom] = [high, value, low].map((one) => round(y(one))) as [
        number,
        number,
        number,
      ];
      const cross = flagged ? `M${at - 5} ${middle - 5}l10 10m0 -10l-10 10` : '';
      return [
        element('path', {
          class: 'spread',
          'data-reading': id,
          d: `M${at} ${bottom}V${top}M${at - 3} ${bottom}h6M${at - 3} ${top}h6${cross}`,
        }),
        element('circle', { cx: at, cy: middle, r: 3.2, 'data-reading': id }),
      ];
    }),
  );
}
