/**
 * The highest change limit that keeps a stated risk: the cheapest, since every bath then lasts longest.
 */

/** Shares of the ledger's limits that are tried: twentieths, up to three times the limits. */
const STEP = 0.05;
const MOST_STEPS = 60;

export interface Best<Result> {
  changeAt: number;
  result: Result;
  /** A higher one was not allowed, whatever its risk. */
  bounded: boolean;
}

/**
 * Halves the range of shares until the highest is found at which no more than `risk` of the loads begin past a limit. The same
 * drawn worlds are used throughout, so that the share of such loads rises steadily with the limit.
 *
 * @param risk - 0 to 1
 * @param isAllowed - whether a share may be tried; those below one that may, may as well
 * @param run - runs the shop with its limits at a share; null when the person left
 * @returns null when even the lowest share has a greater risk, or the person left
 */
export async function bestLimit<Result extends { overLimitShare: number }>(
  risk: number,
  isAllowed: (changeAt: number) => boolean,
  run: (changeAt: number) => Promise<Result | null>,
): Promise<Best<Result> | null> {
  let best: Best<Result> | null = null;
  let bounded = false;
  let low = 0;
  let high = MOST_STEPS + 1;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    const changeAt = Number((middle * STEP).toFixed(2));
    if (!isAllowed(changeAt)) {
      high = middle;
      bounded = true;
      continue;
    }
    const result = await run(changeAt);
    if (!result) return null;
    if (result.overLimitShare <= risk) {
      low = middle;
      best = { changeAt, result, bounded: false };
    } else {
      high = middle;
      bounded = false;
    }
  }
  return best && { ...best, bounded };
}

/** How many shares {@link bestLimit} tries at most. */
export const BEST_LIMIT_RUNS = Math.ceil(Math.log2(MOST_STEPS + 1));
