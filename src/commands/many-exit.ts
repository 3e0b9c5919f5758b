const COULD_NOT_JUDGE = 3;

/**
 * The exit code for several ledgers, of the code that each has for itself: the highest of 0 nothing, 1 soon, 2 change or stop and 3 could
 * not judge. What is due in the others is printed all the same. Every code beyond 3, like 65 or 66 of a ledger that could not be read,
 * counts as could not judge.
 *
 * Example: 0, 1 and 2 give 2; 2 and 66 give 3.
 */
export function urgencyOfAll(codes: readonly number[]): number {
  return Math.min(COULD_NOT_JUDGE, Math.max(0, ...codes));
}
