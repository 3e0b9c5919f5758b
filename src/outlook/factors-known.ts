/**
 * Each factor before any reading, and as readings have left it.
 */
import { priorMedians } from '../bath/replay.ts';
import { factorOn } from '../belief/factors.ts';
import { Z95 } from '../belief/quantile.ts';
import { factorBand, factorName } from './factors-band.ts';
import type { Quantity } from './quantity.ts';
import type { Status } from './status.ts';

export interface FactorKnown {
  name: string;
  prior: Quantity;
  now: Quantity;
  /** How many readings brought its spread down by a hundredth or more. */
  readings: number;
}

/** All factors that the ledger does not switch off. */
export function factorsKnown({ shop, factors, belief }: Status): FactorKnown[] {
  const medians = priorMedians(shop);
  const { readings, taughtBy } = belief.lessons.all;
  return belief.ensemble.axes.map((axis, place) => {
    const median = factorOn(medians, axis);
    const spread = Math.exp(Z95 * axis.priorSd);
    const prior = { p05: median / spread, p50: median, p95: median * spread };
    const now = readings === 0 ? prior : factorBand(factors, belief, axis);
    return { name: factorName(axis, shop), prior, now, readings: taughtBy[place]! };
  });
}
