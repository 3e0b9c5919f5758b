/**
 * A replay with everything that is known of it: the best estimate, and the worlds beside it.
 */
import {
  type AllFactors,
  type Halt,
  priorMedians,
  type Replay,
  replay,
  type Step,
  type Underway,
} from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import type { Entry } from '../ledger/event.ts';
import { Belief, type BeliefUnderway } from './belief.ts';

export interface Believed {
  /** The best estimate of each. */
  factors: AllFactors;
  replayed: Replay;
  belief: Belief;
}

/** Where a replay with belief has come to. Plain data; live. */
export interface BelievedUnderway {
  factors: AllFactors;
  replay: Underway;
  belief: BeliefUnderway;
}

/** Where to begin and where to stop for a look. */
export interface Stages {
  /** Where a replay of the entries before these came to; it is carried on, and changed. */
  from?: BelievedUnderway;
  halt?: Halt<BelievedUnderway>;
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
  options: { watch?: (step: Step, belief: Belief) => void; watchRecords?: boolean } & Stages = {},
): Believed {
  const { watch, watchRecords = false, from, halt } = options;
  const factors = from?.factors ?? priorMedians(shop);
  const belief = new Belief(shop, factors, entries, from?.belief);
  const replayed = replay(shop, entries, clockMs, {
    factors,
    along: belief,
    watchRecords,
    ...(watch ? { watch: (step) => watch(step, belief) } : {}),
    ...(from ? { from: from.replay } : {}),
    ...(halt
      ? {
          halt: {
            at: halt.at,
            seen: (underway) => halt.seen({ factors, replay: underway, belief: belief.underway }),
          },
        }
      : {}),
  });
  return { factors, replayed, belief };
}
