/**
 * The resin in the last bath at which half the loads of a shop fail.
 */
import type { Trial } from './inspections.ts';

export interface FailureLevel {
  /** 5, 50 and 95 % points of the level, wt%. */
  p05: number;
  p50: number;
  p95: number;
}

/** Standard deviation of ln θ before any result: 5 to 95 % span a factor of 27. An engineering choice. */
export const LEVEL_SD = 1;
/** Median of the steepness k before any result, and standard deviation of its logarithm. An engineering choice. */
export const STEEPNESS = { median: 3, sd: 1 } as const;

/** The first grid reaches so many prior standard deviations either way; the second spans what of it is not negligible. */
const REACH = 4.5;
const CELLS = 60;
const NEGLIGIBLE = 1e-7;

/**
 * The level at which half the loads fail [wt%], with its 5 and 95 % points: a logistic regression of failed or passed on the
 * logarithm of the resin, under a weak normal prior.
 *
 *     P(fails) = 1/(1 + exp(−k (ln w − ln θ))),   ln θ ~ N(ln θ0, 1),   ln k ~ N(ln 3, 1)
 *
 * w: resin in the last bath at the end of the wash, wt%, best estimate; θ: the level, wt%; k: steepness, per e-fold of w, taken as
 * positive: a dirtier bath does not make parts cleaner; θ0: where the prior is centred, wt%. The posterior is summed over a grid of
 * ln θ and ln k, so that nothing diverges where all that failed lies above all that passed. A weak prior on a logistic regression is the advice of Gelman, Jakulin, Pittau, Su, A weakly informative default prior,
 * Ann. Appl. Stat. 2(4) (2008) 1360–1383 (from memory, unverified), which takes a Cauchy where this takes a normal.
 *
 * Validity: w is the model's own estimate, so the level goes with this ledger's estimates and is no property of a resin. An error
 * that all washes share moves both alike; that of each wash by itself is left out, which makes the band a little narrow.
 *
 * Example: without results, and θ0 = 5, the median is 5 and the 5 and 95 % points are 0.97 and 25.9 wt% (5 exp(∓1.645)).
 */
export function failureLevel(trials: readonly Trial[], centreWtPct: number): FailureLevel {
  const wide = { from: -REACH, to: REACH };
  const coarse = posterior(trials, centreWtPct, { level: wide, steepness: wide });
  const fine = posterior(trials, centreWtPct, {
    level: spanOf(wide, coarse.byLevel),
    steepness: spanOf(wide, coarse.bySteepness),
  });
  const at = (share: number) => centreWtPct * Math.exp(LEVEL_SD * quantile(fine.levels, fine.byLevel, share));
  return { p05: at(0.05), p50: at(0.5), p95: at(0.95) };
}

/** In prior standard deviations from the centre. */
interface Span {
  from: number;
  to: number;
}

/** Weights on the middles of the cells, up to a factor. */
interface Posterior {
  levels: number[];
  byLevel: number[];
  bySteepness: number[];
}

function posterior(
  trials: readonly Trial[],
  centreWtPct: number,
  over: { level: Span; steepness: Span },
): Posterior {
  const levels = middles(over.level);
  const signed = trials.map(({ resinWtPct, failed }) => [failed ? 1 : -1, Math.log(resinWtPct)] as const);
  const logs = levels.map((level) => {
    const lnLevel = Math.log(centreWtPct) + LEVEL_SD * level;
    const distances = signed.map(([sign, lnResin]) => sign * (lnResin - lnLevel));
    return middles(over.steepness).map((steep) => logWeight(distances, level, steep));
  });
  const most = Math.max(...logs.flat());
  const weights = logs.map((row) => row.map((log) => Math.exp(log - most)));
  return {
    levels,
    byLevel: weights.map((row) => row.reduce((sum, one) => sum + one, 0)),
    bySteepness: weights[0]!.map((_, column) => weights.reduce((sum, row) => sum + row[column]!, 0)),
  };
}

/** Logarithm of prior and likelihood; `distances` are positive where the result is the one to be expected. */
function logWeight(distances: readonly number[], level: number, steep: number): number {
  const steepness = STEEPNESS.median * Math.exp(STEEPNESS.sd * steep);
  let sum = -(level * level + steep * steep) / 2;
  for (const distance of distances) sum -= softplus(-steepness * distance);
  return sum;
}

/** ln(1 + e^x), without overflow. */
function softplus(x: number): number {
  return Math.max(x, 0) + Math.log1p(Math.exp(-Math.abs(x)));
}

function middles({ from, to }: Span): number[] {
  const width = (to - from) / CELLS;
  return Array.from({ length: CELLS }, (_, place) => from + (place + 0.5) * width);
}

/** The cells that count, and one more on either side. */
function spanOf({ from, to }: Span, weights: readonly number[]): Span {
  const width = (to - from) / weights.length;
  const least = NEGLIGIBLE * Math.max(...weights);
  const first = weights.findIndex((one) => one > least);
  const last = weights.findLastIndex((one) => one > least);
  return {
    from: from + Math.max(0, first - 1) * width,
    to: from + Math.min(weights.length, last + 2) * width,
  };
}

/** Where the running sum passes a share of it all; each weight is spread evenly over its cell. */
function quantile(points: readonly number[], weights: readonly number[], share: number): number {
  const cell = points[1]! - points[0]!;
  const goal = share * weights.reduce((sum, one) => sum + one, 0);
  let before = 0;
  for (const [place, weight] of weights.entries()) {
    if (before + weight >= goal) return points[place]! + ((goal - before) / weight - 0.5) * cell;
    before += weight;
  }
  return points.at(-1)!;
}
