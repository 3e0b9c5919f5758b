/**
 * Readings as points of the charts: the resin, or the water, that each would mean if the other is as estimated.
 */
import type { Compared } from '../belief/belief.ts';
import { asResin, asWater } from '../belief/meaning.ts';

export interface ReadingPoint {
  id: string;
  atMs: number;
  /** Place of its bath. */
  bath: number;
  of: 'resin' | 'water';
  /** wt%; a standard deviation of instrument and formula to both sides, never below 0. */
  low: number;
  value: number;
  high: number;
  /** Too far off for chance. */
  flagged: boolean;
}

/** Columns of the window in which only the lowest and the highest reading of a kind are kept. */
const COLUMNS = 160;

/** Density, index and dried residue tell resin; a density may as well be water, and stands in that chart too. */
export function readingPoints(
  compared: readonly Compared[],
  window: { fromMs: number; toMs: number },
): ReadingPoint[] {
  const points = compared
    .filter(({ entry: { atMs } }) => atMs > window.fromMs && atMs <= window.toMs)
    .flatMap((one) =>
      (['resin', 'water'] as const).flatMap((of) => {
        const point = pointOf(one, of);
        return point ? [point] : [];
      }),
    );
  return extremes(points, window);
}

function pointOf({ entry, bath, look, liquid, zero, flagged }: Compared, of: 'resin' | 'water') {
  if (bath === undefined || !look || !liquid) return null;
  const told = of === 'resin' ? ['density', 'index', 'resin'] : ['density'];
  if (!told.includes(look.sees)) return null;
  const solve = of === 'resin' ? asResin : asWater;
  const sd = Math.hypot(look.instrumentSd, look.modelSd);
  const at = (sds: number) => solve(look, look.value - zero + sds * sd, liquid);
  const high = at(1);
  if (high === null) return null;
  // Below what none at all would show, there is none.
  const point: ReadingPoint = {
    id: entry.event.id,
    atMs: entry.atMs,
    bath,
    of,
    low: at(-1) ?? 0,
    value: at(0) ?? 0,
    high,
    flagged,
  };
  return point;
}

/** The lowest and the highest of each column, bath and kind. */
function extremes(
  points: readonly ReadingPoint[],
  { fromMs, toMs }: { fromMs: number; toMs: number },
): ReadingPoint[] {
  const groups = new Map<string, ReadingPoint[]>();
  for (const point of points) {
    const column = Math.floor((COLUMNS * (point.atMs - fromMs)) / (toMs - fromMs));
    const key = `${point.bath} ${point.of} ${column}`;
    const group = groups.get(key);
    if (group) group.push(point);
    else groups.set(key, [point]);
  }
  return [...groups.values()].flatMap((group) => {
    const sorted = [...group].sort((one, other) => one.value - other.value);
    return sorted.length <= 2 ? group : [sorted[0]!, sorted.at(-1)!];
  });
}
