/** How far a range of concentrations comes towards a limit. None of the answers says that the air is good. */

/** A concentration with its doubt, ppm: the ends of the estimate, and of the value that cautions rest on. */
export interface Range {
  low: number;
  high: number;
  cautionLow: number;
  cautionHigh: number;
}

/** Which end first comes to it; `none` shows nothing but that this estimate does not. */
export type Reach = 'low-end' | 'high-end' | 'caution-value' | 'none';

/** A concentration at the limit itself has reached it. Example: 210 ppm as the high end, 200 ppm → `high-end`. */
export function reachOf(limitPpm: number, { low, high, cautionHigh }: Range): Reach {
  if (low >= limitPpm) return 'low-end';
  if (high >= limitPpm) return 'high-end';
  return cautionHigh >= limitPpm ? 'caution-value' : 'none';
}
