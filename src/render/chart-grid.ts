/**
 * The inside of a chart, cell by cell: band, best estimate, limit and today.
 */
import type { Quantity } from '../outlook/quantity.ts';
import { columnOf, type Frame, momentOf } from './chart-frame.ts';
import { rowOf, type Scale } from './chart-scale.ts';

/** One bath at one moment. */
export interface Point {
  atMs: number;
  value: Quantity;
}

export type Cell = 'blank' | 'band' | 'best' | 'limit' | 'limit-in-band' | 'today';

/**
 * Rows from the top down. Each column shows its moment, between the points before and after it; the best estimate lies on the
 * band, both on the limit, and today on nothing.
 *
 * @param points - in order of time; none where nothing is known
 */
export function gridOf(points: readonly Point[], limit: number, frame: Frame, scale: Scale): Cell[][] {
  const today = columnOf(frame, frame.nowMs);
  const limitRow = rowOf(scale, limit);
  const columns = Array.from({ length: frame.columns }, (_, column) => {
    const value = valueAt(points, momentOf(frame, column));
    return value && rowsOf(value, scale);
  });
  return Array.from({ length: scale.rows }, (_, fromTop) => {
    const row = scale.rows - 1 - fromTop;
    return columns.map((shown, column): Cell => {
      if (shown && row === shown.best) return 'best';
      const inBand = shown !== null && row >= shown.low && row <= shown.high;
      if (row === limitRow) return inBand ? 'limit-in-band' : 'limit';
      if (inBand) return 'band';
      return column === today ? 'today' : 'blank';
    });
  });
}

function rowsOf({ p05, p50, p95 }: Quantity, scale: Scale): { low: number; best: number; high: number } {
  return { low: rowOf(scale, p05 ?? p50), best: rowOf(scale, p50), high: rowOf(scale, p95 ?? p50) };
}

/** The value at a moment, along straight lines; null before the first point and after the last. */
export function valueAt(points: readonly Point[], ms: number): Required<Quantity> | null {
  const after = points.findIndex(({ atMs }) => atMs >= ms);
  const next = points[after];
  const before = points[after - 1];
  if (!next) return null;
  if (!before || next.atMs === ms) return next.atMs === ms ? whole(next.value) : null;
  const share = (ms - before.atMs) / (next.atMs - before.atMs);
  const [from, to] = [whole(before.value), whole(next.value)];
  const between = (key: keyof Quantity) => from[key] + share * (to[key] - from[key]);
  return { p05: between('p05'), p50: between('p50'), p95: between('p95') };
}

function whole({ p05, p50, p95 }: Quantity): Required<Quantity> {
  return { p05: p05 ?? p50, p50, p95: p95 ?? p50 };
}
