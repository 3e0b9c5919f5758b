/**
 * All that is known of a shop at one moment: the one call between a ledger's entries and anything that is shown.
 */
import type { AllFactors, Replay, Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import type { Figure } from '../belief/band.ts';
import type { Belief } from '../belief/belief.ts';
import { believe, type Stages } from '../belief/believe.ts';
import type { Entry } from '../ledger/event.ts';
import { type Advice, adviseOn } from './advice.ts';
import { type BathEstimate, estimateBaths } from './estimate.ts';
import { type LastWash, lastWashOf } from './factors-band.ts';
import { loadsFigure, withBand } from './loads-band.ts';
import { type LoadsLeft, loadsLeft } from './loads-left.ts';
import type { Days } from './pace.ts';
import { type Plan, planOf } from './plan.ts';

/** A status without what follows from it. */
export type Known = Omit<Status, 'advice' | 'plan'>;

export interface Status {
  shop: Shop;
  clockMs: number;
  /** The best estimate of each. */
  factors: AllFactors;
  replayed: Replay;
  belief: Belief;
  /** In the order of `shop.tubs`. */
  estimates: BathEstimate[];
  lastWash: LastWash | null;
  left: LoadsLeft | null;
  /** The loads left as the worlds count them. */
  loads: Figure | null;
  advice: Advice;
  /** When to act; null unless a calendar was given, or when nothing was washed lately. */
  plan: Plan | null;
}

/**
 * Replays entries up to the clock and says what is in the baths, what to make of it, and what to do.
 *
 * @param entries - in order, corrections applied, none after the clock
 * @param options.watch - called after each event that moved something, and after each reading, with the belief as it is then
 * @param options.days - the shop's calendar: with it the advice says when
 * @param options.done - how many of the entries `from` has seen already; those that only the replay asks for may be left out of them
 */
export function statusOf(
  shop: Shop,
  entries: readonly Entry[],
  clockMs: number,
  options: { watch?: (step: Step, belief: Belief) => void; days?: Days; done?: number } & Stages = {},
): Status {
  const { days, done = 0, ...on } = options;
  const { factors, replayed, belief } = believe(
    shop,
    done === 0 ? entries : entries.slice(done),
    clockMs,
    on,
  );
  const { ensemble } = belief;
  const estimates = estimateBaths(shop, replayed, clockMs, belief);
  const count = loadsLeft(shop, replayed, factors);
  const loads = loadsFigure(shop, replayed, ensemble, count);
  const left = count && withBand(count, loads, ensemble);
  const lastWash = lastWashOf(replayed, ensemble);
  const known = { shop, clockMs, factors, replayed, belief, estimates, lastWash, left, loads };
  const plan = days ? planOf(known, entries, days) : null;
  return { ...known, plan, advice: adviseOn(estimates, shop, left, plan) };
}
