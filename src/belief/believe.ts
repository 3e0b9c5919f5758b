/**
 * A replay with everything that is known of it: the best estimate, and the worlds beside it.
 */
import { type AllFactors, priorMedians, type Replay, replay, type Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import type { Entry } from '../ledger/event.ts';
import { Belief } from './belief.ts';

export interface Believed {
  /** The best estimate of each. */
  factors: AllFactors;
  replayed: Replay;
  belief: Belief;
}

/**
 * Replays entries up to the clock, and learns from the readings among them.
 *
 * @param entries - in order, corrections applied, none after the clock
 * @param options - as those of `replay`; the watcher gets the belief as it is at that event
 */
export function believe(
  shop: Shop,
  entries: readonly Entry[],
  clockMs: number,
  options: { watch?: (step: Step, belief: Belief) => void; watchRecords?: boolean } = {},
): Believed {
  const factors = priorMedians(shop);
  const belief = new Belief(shop, factors, entries);
  const { watch, watchRecords = false } = options;
  const replayed = replay(shop, entries, clockMs, {
    factors,
    along: belief,
    watchRecords,
    ...(watch ? { watch: (step) => watch(step, belief) } : {}),
  });
  return { factors, replayed, belief };
}
