/**
 * Readings as points of the charts: the resin, or the water, that each would mean if the other is as estimated.
 */
import type { Liquid } from '../bath/liquid.ts';
import type { Compared } from '../belief/belief.ts';
import { asResin, asWater, type Contents, contentsOf, withContents } from '../belief/meaning.ts';
import type { Look } from '../belief/readings.ts';
import type { Looked } from './series.ts';
import type { Banded, Percents } from './series-look.ts';

export interface ReadingPoint {
  id: string;
  atMs: number;
  /** Place of its bath. */
  bath: number;
  of: 'resin' | 'water';
  /** It tells of resin and water together. */
  isDensity: boolean;
  /** wt%; a standard deviation of instrument, formula and the other contents to both sides, never below 0. */
  low: number;
  value: number;
  high: number;
  /** Too far off for chance. */
  flagged: boolean;
}

/** Columns of the window in which only the lowest and the highest reading of a kind are kept. */
const COLUMNS = 160;

/**
 * Every reading once. An index and a dried residue tell resin. A density alone cannot tell resin from water: it stands in the chart of the
 * one of which the estimate before it was less sure, as the instrument sees it, for of that one it tells more.
 *
 * @param looked - of each bath, in order
 */
export function readingPoints(
  compared: readonly Compared[],
  window: { fromMs: number; toMs: number },
  looked: readonly (readonly Looked[])[],
): ReadingPoint[] {
  const points = compared
    .filter(({ entry: { atMs } }) => atMs > window.fromMs && atMs <= window.toMs)
    .flatMap((one) => pointOf(one, looked) ?? []);
  return extremes(points, window);
}

const TELLING = ['density', 'index', 'resin'];

function pointOf(
  { entry, bath, look, liquid, zero, flagged }: Compared,
  looked: readonly (readonly Looked[])[],
): ReadingPoint | null {
  if (bath === undefined || !look || !liquid || !TELLING.includes(look.sees)) return null;
  const doubt = doubtOf(look, liquid, lastBefore(looked[bath]!, entry.atMs));
  const isDensity = look.sees === 'density';
  const of = isDensity && doubt.resin <= doubt.water ? 'water' : 'resin';
  const solve = of === 'resin' ? asResin : asWater;
  const sd = Math.hypot(look.instrumentSd, look.modelSd, of === 'resin' ? doubt.water : doubt.resin);
  const at = (sds: number) => solve(look, look.value - zero + sds * sd, liquid);
  const high = at(1);
  if (high === null) return null;
  // Below what none at all would show, there is none.
  const [low, value] = [at(-1) ?? 0, at(0) ?? 0];
  return { id: entry.event.id, atMs: entry.atMs, bath, of, isDensity, low, value, high, flagged };
}

/**
 * How far the instrument would move by one standard deviation of the estimate, in its own unit:
 *
 *     d = |f(x + s) − f(x)|,  s = (p95 − p05)/3.29
 *
 * f: what the instrument sees; x: resin or water of the liquid, wt%; s: sd of its estimate, wt%, as for a bell curve, whose 5 to 95 % are
 * 3.29 sd wide.
 */
function doubtOf(look: Look, liquid: Liquid, banded: Percents<Banded> | null): Percents<number> {
  const held = contentsOf(liquid);
  const moved = (contents: Partial<Contents>) =>
    Math.abs(look.see(withContents(liquid, { ...held, ...contents })) - look.see(liquid));
  const sd = (of: 'resin' | 'water') => (banded ? (banded[of].p95 - banded[of].p05) / BAND_SDS : 0);
  return {
    resin: moved({ resinWtPct: held.resinWtPct + sd('resin') }),
    water: moved({ waterWtPct: held.waterWtPct + sd('water') }),
  };
}

/** Standard deviations from 5 to 95 % of a bell curve: twice 1.645. */
const BAND_SDS = 3.29;

/** What is looked at before an event comes first of what is looked at in its moment. */
function lastBefore(looked: readonly Looked[], atMs: number): Looked['banded'] {
  const then = looked.find((look) => look.atMs === atMs) ?? looked.findLast((look) => look.atMs < atMs);
  return then?.banded ?? null;
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
