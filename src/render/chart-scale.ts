/**
 * The scale of a chart: which value lies in the middle of which row. The change limit always lies in one.
 */
export interface Scale {
  /** Rows, the lowest at 0. */
  rows: number;
  /** From the middle of one row to that of the next. */
  step: number;
}

/** Of the limit: a band that reaches higher is cut, so that what lies below stays legible. */
const MOST_OF_BAND = 1.6;
const ABOVE_LIMIT = 1.15;

/** @param highest - of the best estimate, and of the band */
export function scaleOf(rows: number, limit: number, highest: { best: number; band: number }): Scale {
  const top = Math.max(limit * ABOVE_LIMIT, highest.best, Math.min(highest.band, MOST_OF_BAND * limit));
  const parts = Math.floor(((rows - 1) * limit) / top);
  return { rows, step: parts >= 1 ? limit / parts : top / (rows - 1) };
}

/** The row of a value, 0 at the bottom; values beyond the top lie in the top row. */
export function rowOf({ rows, step }: Scale, value: number): number {
  return Math.min(rows - 1, Math.max(0, Math.round(value / step)));
}
