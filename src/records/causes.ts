/**
 * What may lie behind parts that did not come out well: the likely causes, ranked from what the log holds of their wash.
 */
import type { InspectResult } from '../ledger/event.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { WashSeen } from './inspections.ts';

export type CauseKind =
  | 'bath-resin'
  | 'undissolved'
  | 'short-soak'
  | 'long-soak'
  | 'water'
  | 'drying'
  | 'drained'
  | 'hollow';

/** 3: past what is called harmful; 2: past what is called enough to act on; 1: cannot be ruled out. */
export type Weight = 1 | 2 | 3;

export interface Cause {
  kind: CauseKind;
  weight: Weight;
}

/** What is known beside the wash itself. */
export interface Since {
  /** Minutes from the wash to the inspection: the parts cannot have dried for longer. */
  minutesSinceWash: number;
}

/**
 * Thresholds. Soak: warn beyond 15 min, over-washed beyond 20, damage likely at 60; thin parts from 10 (SPLINTSOAK2021, RINSETIME2021;
 * the figures common practice). Short: 5 min took off what harmed cells (SPLINTSOAK2021). Undissolved: two stirred baths leave
 * 0.07² to 0.2² of it, 4 % at most, and one alone 20 % (common practice, no source). Drained: 10 min is the habit, and 1 min leaves
 * three times as much on (film ∝ 1/√t; common practice, no source).
 */
const CAUSE_LIMITS = {
  longSoakMin: [15, 20, 60],
  longThinSoakMin: [10, 15, 60],
  shortSoakMin: 5,
  undissolved: [0.04, 0.2],
  drainedMin: [10, 3],
} as const;

/**
 * Which causes go with which result, the usual suspect first: among equal weights this order decides. Common practice, no source;
 * longer soaks lower strength (SPLINTSOAK2021), a loaded bath leaves a film (ETHANOLPOSTWASH, FLIERL).
 */
const ORDER: Record<Exclude<InspectResult, 'ok'>, readonly CauseKind[]> = {
  sticky: ['bath-resin', 'undissolved', 'short-soak', 'drying', 'hollow', 'drained', 'water', 'long-soak'],
  cloudy: ['bath-resin', 'long-soak', 'water', 'drying', 'undissolved', 'hollow'],
  residue: ['undissolved', 'bath-resin', 'hollow', 'short-soak', 'drained', 'water'],
  soft: ['long-soak', 'drying', 'bath-resin', 'undissolved'],
  cracked: ['long-soak', 'drying'],
};

/**
 * Likely causes, the likeliest first: by weight, then in the usual order for the result. A cause that the log speaks against is left out;
 * nothing here judges a part, and what the log does not hold (print, age of the resin, light-curing) is not among them.
 *
 * @returns none for parts that were ok
 */
export function causesOf(result: InspectResult, wash: WashSeen, since: Since): Cause[] {
  if (result === 'ok') return [];
  return ORDER[result]
    .flatMap((kind) => {
      const weight = weigh(kind, wash, since);
      return weight === 0 ? [] : [{ kind, weight }];
    })
    .sort((one, other) => other.weight - one.weight);
}

function weigh(kind: CauseKind, wash: WashSeen, since: Since): Weight | 0 {
  const { longSoakMin, longThinSoakMin, shortSoakMin, undissolved, drainedMin } = CAUSE_LIMITS;
  const soakMin = wash.soakMin.reduce((sum, one) => sum + one, 0);
  switch (kind) {
    case 'bath-resin':
      return byLimits(wash.resinWtPct, wash.limits.resin);
    case 'water':
      return byLimits(wash.waterWtPct, wash.limits.water);
    case 'undissolved':
      return steps(wash.undissolvedShare, undissolved);
    case 'short-soak':
      return soakMin < shortSoakMin ? 2 : 0;
    case 'long-soak':
      return steps(soakMin, wash.thin.length > 0 ? longThinSoakMin : longSoakMin);
    case 'drying':
      return since.minutesSinceWash < wash.dryMin ? 2 : 1;
    case 'drained':
      return wash.drainedMin < drainedMin[1] ? 2 : wash.drainedMin < drainedMin[0] ? 1 : 0;
    case 'hollow':
      return wash.hollow ? 1 : 0;
    default:
      return kind satisfies never;
  }
}

/** How many of the limits an amount is past. */
function steps(amount: number, limits: readonly number[]): Weight | 0 {
  return limits.filter((limit) => amount > limit).length as Weight | 0;
}

/** Past soon, or perhaps past change: 1. Past change: 2. Past never: 3. */
function byLimits(amount: Quantity | null, [soon, change, never]: WashSeen['limits']['resin']): Weight | 0 {
  if (amount === null) return 0;
  const { p50, p95 = p50 } = amount;
  if (p50 >= never) return 3;
  if (p50 >= change) return 2;
  return p50 >= soon || p95 >= change ? 1 : 0;
}
