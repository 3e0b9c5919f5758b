/**
 * The band of a figure: its 5 and 95 % points about the best estimate.
 */
import type { Ensemble } from './ensemble.ts';
import { quantileShift, Z95 } from './quantile.ts';

/** A figure to put a band on. */
export interface Figure {
  /** The best estimate. */
  best: number;
  /** In each world, the middle first. */
  values: readonly number[];
  /** Standard deviation that the scatter of washes adds: of the logarithm for a positive figure, else of the figure. */
  scatterSd?: number;
}

export interface Band {
  p05: number;
  p50: number;
  p95: number;
}

/**
 * The figure's quantile at `z` standard deviations of a normal.
 *
 * A figure that is positive in every world is taken on a logarithmic scale, and cannot fall to 0; one that is nowhere
 * negative does not fall below it. Its worlds hold the mean of the
 * scatter of washes, e^(s²/2) above its median.
 */
export function quantileAt(ensemble: Ensemble, { values, scatterSd = 0 }: Figure, z: number): number {
  const positive = values.every((value) => value > 0);
  const scaled = positive ? values.map(Math.log) : values;
  const shift = quantileShift(ensemble.bends(scaled), scatterSd, z);
  if (positive) return values[0]! * Math.exp(shift - scatterSd ** 2 / 2);
  const least = values.every((value) => value >= 0) ? 0 : Number.NEGATIVE_INFINITY;
  return Math.max(least, values[0]! + shift);
}

/**
 * A figure whose worlds hold its median, not the mean of a scatter: what lies ahead scatters about what each world foresees.
 */
export function withScatterAhead({ best, values }: Figure, scatterSd: number): Figure {
  const mean = Math.exp(scatterSd ** 2 / 2);
  return { best, values: values.map((value) => value * mean), scatterSd };
}

/**
 * The 5, 50 and 95 % points; the best estimate is always among them. The ends are worked out when they are asked for: of a dozen
 * figures of a bath a command shows three.
 */
export function bandOf(ensemble: Ensemble, figure: Figure): Band {
  const { best } = figure;
  let low: number | undefined;
  let high: number | undefined;
  return {
    get p05() {
      low ??= Math.min(best, quantileAt(ensemble, figure, -Z95));
      return low;
    },
    p50: best,
    get p95() {
      high ??= Math.max(best, quantileAt(ensemble, figure, Z95));
      return high;
    },
  };
}
