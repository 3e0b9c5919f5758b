/**
 * What was seen of washed parts, beside the wash they came from.
 */
import type { InspectEvent, InspectResult } from '../ledger/event.ts';
import type { Quantity } from '../outlook/quantity.ts';

/** A wash as far as it bears on the look of its parts. */
export interface WashSeen {
  id: string;
  atMs: number;
  /** The last bath of its way, and whether that is where the shop's washes usually end. */
  lastBath: string;
  isUsualLast: boolean;
  /** Soon, change and never for that bath, wt%. */
  limits: { resin: readonly [number, number, number]; water: readonly [number, number, number] };
  /** Resin and water of the solvent in it as the parts left it, wt%; null where it held none. */
  resinWtPct: Quantity | null;
  waterWtPct: Quantity | null;
  /** What the model leaves on the parts once dry; p50 is not a number where the surface is not known. */
  residueUgPerCm2: Quantity;
  /** Of the resin that came in, what never dissolved. */
  undissolvedShare: number;
  /** Soak in each bath. */
  soakMin: readonly number[];
  agitation: string;
  drainedMin: number;
  /** Whether the entry says how long it drained; else it is the shop's usual time. */
  drainedLogged: boolean;
  hollow: boolean;
  /** Kinds among its parts that a long soak harms first. */
  thin: readonly string[];
  /** The longest usual drying time of its parts before light-curing. */
  dryMin: number;
}

/** One inspection as it counts; without a wash where it names none, or one that did not take place. */
export interface Look {
  event: InspectEvent;
  atMs: number;
  wash: WashSeen | null;
}

/** A wash held against what was seen of it. */
export interface Trial {
  washId: string;
  /** In the last bath, best estimate. */
  resinWtPct: number;
  failed: boolean;
}

/**
 * Results that resin left on a part can bring about. Soft and cracked parts tell of long soaks instead, and count neither way.
 * Common practice, no source.
 */
const FROM_RESIN: readonly InspectResult[] = ['sticky', 'cloudy', 'residue'];

/**
 * Washes with a look of their parts, each once: failed when any look of it tells of resin left on them, else passed when one was ok.
 * Only washes that ended in the shop's usual last bath can be compared.
 */
export function trialsOf(looks: readonly Look[]): Trial[] {
  const trials = new Map<string, Trial>();
  for (const { event, wash } of looks) {
    const resin = wash?.resinWtPct?.p50 ?? 0;
    const failed = FROM_RESIN.includes(event.result);
    if (!wash?.isUsualLast || !(resin > 0) || !(failed || event.result === 'ok')) continue;
    const before = trials.get(wash.id)?.failed ?? false;
    trials.set(wash.id, { washId: wash.id, resinWtPct: resin, failed: before || failed });
  }
  return [...trials.values()];
}

/**
 * From so many washes, with so many of each kind, a level is told. Over shops drawn from the prior of `failure-level.ts` its band
 * then spans a factor of 6 on average; it is 27 before any result, 9 after four, 4 after sixteen. One of a kind could be a slip.
 */
export const ENOUGH = { trials: 8, ofEach: 2 } as const;

/** How many more are needed, by kind; null when there are enough. */
export function missingTrials(
  trials: readonly Trial[],
): { trials: number; failed: number; passed: number } | null {
  const failed = trials.filter((one) => one.failed).length;
  const missing = {
    trials: Math.max(0, ENOUGH.trials - trials.length),
    failed: Math.max(0, ENOUGH.ofEach - failed),
    passed: Math.max(0, ENOUGH.ofEach - (trials.length - failed)),
  };
  return missing.trials + missing.failed + missing.passed > 0 ? missing : null;
}
