/** One ledger's answer for `due` and `baths --exit-code`. */
const URGENCY = { nothing: 0, soon: 1, change: 2, notJudged: 3, changeAndNotJudged: 4 } as const;

/**
 * The exit code for several ledgers, of the code that each has for itself.
 *
 * 0 nothing in any; 1 soon in one; 2 change or stop in one; 3 one could not be judged, and nothing worse than soon in the others; 4 both: change
 * or stop in one, and another could not be judged. So neither hides the other, and everything from 2 up wants somebody to look. Every code
 * beyond 2, like 65 or 66 of a ledger that could not be read, counts as not judged.
 *
 * Example: 0, 1 and 2 give 2; 2 and 66 give 4; 1 and 3 give 3.
 */
export function urgencyOfAll(codes: readonly number[]): number {
  const change = codes.includes(URGENCY.change);
  const notJudged = codes.some((code) => code > URGENCY.change);
  if (change && notJudged) return URGENCY.changeAndNotJudged;
  if (change) return URGENCY.change;
  if (notJudged) return URGENCY.notJudged;
  return codes.includes(URGENCY.soon) ? URGENCY.soon : URGENCY.nothing;
}
