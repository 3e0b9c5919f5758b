/**
 * The band of the loads left: every world counts its own.
 */

import type { Replay } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { isEmpty } from '../bath/state.ts';
import { type Figure, quantileAt, withScatterAhead } from '../belief/band.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import { WASH_SCATTER } from '../belief/factors.ts';
import { atMeanScatter } from '../belief/lump.ts';
import { Z95 } from '../belief/quantile.ts';
import { type LoadsLeft, loadsBetween } from './loads-left.ts';
import { meanLoad } from './mean-load.ts';

/** Strides to the limit: enough for a smooth count, few enough to be quick. */
const STRIDES = 6;

/** The loads left as a figure with its values in every world; null where the count was capped or there is none. */
export function loadsFigure(
  shop: Shop,
  replayed: Replay,
  ensemble: Ensemble,
  left: LoadsLeft | null,
): Figure | null {
  const mean = meanLoad(replayed, shop);
  if (!left || !mean || left.bath === null) return null;
  if (ensemble.worlds.some(({ baths }) => mean.load.baths.some((place) => isEmpty(baths[place]!))))
    return null;
  const stride = Math.max(1, Math.ceil(left.loads / STRIDES));
  const load = atMeanScatter(mean.load);
  const values = ensemble.worlds.map((world) => loadsBetween(shop, world, load, stride));
  // The loads still to come scatter, too; what has come is in the worlds' resin and small beside it.
  return withScatterAhead({ best: left.loads, values }, WASH_SCATTER / Math.sqrt(Math.max(1, left.loads)));
}

/** The loads left with their 5 and 95 % points, never below 0 and in whole loads. */
export function withBand(left: LoadsLeft, figure: Figure | null, ensemble: Ensemble): LoadsLeft {
  if (!figure) return left;
  const whole = (z: number) => Math.max(0, Math.floor(quantileAt(ensemble, figure, z)));
  return { ...left, p05: Math.min(left.loads, whole(-Z95)), p95: Math.max(left.loads, whole(Z95)) };
}
