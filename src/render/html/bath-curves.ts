/**
 * What one chart of a bath shows: the best estimate and its band behind, the same ahead, and how far ahead it goes.
 */
import type { Tub } from '../../bath/shop.ts';
import type { Quantity } from '../../outlook/quantity.ts';
import type { Point } from '../../records/series-thin.ts';
import type { Charts } from './charts.ts';
import type { BandPoint } from './curves.ts';
import type { Part } from './part.ts';

export interface BathView {
  tub: Tub;
  place: number;
  of: 'resin' | 'water';
  charts: Charts;
  part: Part;
  /** What the end of the period is called. */
  nowWord: string;
  /** A day in words. */
  day(ms: number): string;
}

export interface BathCurves {
  best: readonly Point[];
  behind: BandPoint[];
  ahead: BandPoint[];
  /** Where the chart ends. */
  lastMs: number;
}

/** What lies ahead takes two thirds of the chart at most, and may have four weeks at least. */
const MOST_AHEAD = 2;
const LEAST_AHEAD_MS = 28 * 86_400_000;

export function curvesOf({ charts, place, of }: BathView): BathCurves {
  const { window, baths } = charts.series;
  const { fromMs, toMs } = window;
  const most = Math.max(LEAST_AHEAD_MS, MOST_AHEAD * (toMs - fromMs));
  return {
    best: baths[place]!.best[of],
    behind: baths[place]!.looked.map(({ atMs, banded }) => ({ atMs, value: banded?.[of] ?? null })),
    ahead: charts.ahead.map(({ atMs, resinWtPct, waterWtPct }) => {
      const value = (of === 'resin' ? resinWtPct : waterWtPct)[place];
      return { atMs, value: value ? whole(value) : null };
    }),
    lastMs: Math.min(charts.ahead.at(-1)?.atMs ?? toMs, toMs + most),
  };
}

function whole({ p05, p50, p95 }: Quantity): Required<Quantity> {
  return { p05: p05 ?? p50, p50, p95: p95 ?? p50 };
}
