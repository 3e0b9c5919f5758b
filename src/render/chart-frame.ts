/**
 * The frame of a chart: which stretch of time lies under which column.
 */
export interface Frame {
  fromMs: number;
  toMs: number;
  nowMs: number;
  columns: number;
}

const MS_PER_DAY = 86_400_000;
/** Wider than this a day says no more. */
const MOST_COLUMNS_A_DAY = 4;
/** Of the columns, at least so many are left for what lies behind, where there is so much. */
const LEAST_BEHIND = 0.25;

/**
 * All that lies ahead, and of what lies behind as many days as fit at a column each. Where what lies ahead takes more than its
 * share of the columns, a column stands for more than a day.
 *
 * @param room - columns there are
 */
export function frameOf(given: { firstMs: number; nowMs: number; lastMs: number; room: number }): Frame {
  const { firstMs, nowMs, lastMs, room } = given;
  const ahead = (lastMs - nowMs) / MS_PER_DAY;
  const fits = Math.max(room - ahead, (ahead * LEAST_BEHIND) / (1 - LEAST_BEHIND));
  const behind = Math.min((nowMs - firstMs) / MS_PER_DAY, fits);
  const columns = Math.min(room, Math.ceil(MOST_COLUMNS_A_DAY * (ahead + behind)));
  return { fromMs: nowMs - behind * MS_PER_DAY, toMs: lastMs, nowMs, columns };
}

/** The moment that a column stands for: its middle, and the clock where that lies in it. */
export function momentOf(frame: Frame, column: number): number {
  if (column === columnOf(frame, frame.nowMs)) return frame.nowMs;
  return frame.fromMs + ((column + 0.5) / frame.columns) * (frame.toMs - frame.fromMs);
}

/** The column in which a moment lies; the last takes the end. */
export function columnOf({ fromMs, toMs, columns }: Frame, ms: number): number {
  return Math.min(columns - 1, Math.floor(((ms - fromMs) / (toMs - fromMs)) * columns));
}
