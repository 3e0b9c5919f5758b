/**
 * A distribution of positive numbers kept as counts in narrow bins, so that millions of them take little room and the counts of
 * two workers can be added.
 */

/** Bins a factor of e apart: each is half a percent wide, and so is the error of a quantile at most. */
const BINS_PER_E = 200;
/** ln of the lower end of the first bin, and the number of bins: 1e-7 to 1e7. */
const LOWEST = Math.log(1e-7);
const BINS = Math.ceil((Math.log(1e7) - LOWEST) * BINS_PER_E);

/** Counts of a distribution; the first bin takes all that is less, 0 as well. */
export function emptySpread(): Uint32Array {
  return new Uint32Array(BINS);
}

export function count(spread: Uint32Array, value: number): void {
  const bin = Math.floor((Math.log(value) - LOWEST) * BINS_PER_E);
  const held = Math.min(BINS - 1, Math.max(0, bin || 0));
  spread[held] = spread[held]! + 1;
}

export function addSpread(to: Uint32Array, from: Uint32Array): void {
  for (let bin = 0; bin < BINS; bin += 1) to[bin] = to[bin]! + from[bin]!;
}

/**
 * The least value with at least `share` of the counts at or below it, to half a percent.
 *
 * @returns NaN when nothing was counted; 0 in the first bin
 */
export function quantileOf(spread: Uint32Array, share: number): number {
  const all = spread.reduce((sum, one) => sum + one, 0);
  if (all === 0) return Number.NaN;
  let seen = 0;
  for (let bin = 0; bin < BINS; bin += 1) {
    seen += spread[bin]!;
    if (seen >= share * all) return bin === 0 ? 0 : Math.exp(LOWEST + (bin + 0.5) / BINS_PER_E);
  }
  return Number.POSITIVE_INFINITY;
}
