/**
 * When stored reclaimed solvent is to be tested for peroxides, and which counts say that it was: PEROXIDES in data/SOURCES.md.
 */
import type { Entry, ReclaimEvent } from '../ledger/event.ts';
import type { Stock } from './stock.ts';

/** What the note of a count begins with when test strips were used on what was counted, and found nothing. */
export const NONE_FOUND = 'peroxide test: none found';

/**
 * From when on the time to the next test runs: the day the oldest reclaimed solvent that can still be on hand came in, the oldest being
 * poured first, or the last count with a test after that; null where there is none on hand.
 */
export function testedFromMs(
  { solvent, onHandMl }: Pick<Stock, 'solvent' | 'onHandMl'>,
  entries: readonly Entry[],
): number | null {
  let left = onHandMl ?? 0;
  let oldest: number | null = null;
  let tested = Number.NEGATIVE_INFINITY;
  for (let place = entries.length - 1; place >= 0 && left > 0; place -= 1) {
    const { event, atMs } = entries[place]!;
    if (!('solvent' in event) || event.solvent !== solvent) continue;
    if (isTest(event)) tested = Math.max(tested, atMs);
    if (event.what !== 'reclaim') continue;
    left -= (event as ReclaimEvent).ml;
    oldest = atMs;
  }
  return oldest === null ? null : Math.max(oldest, tested);
}

/** A count of nothing tests nothing. */
function isTest(event: Entry['event']): boolean {
  return (
    event.what === 'stock' &&
    (event.counted_ml ?? 0) > 0 &&
    event.note?.toLowerCase().startsWith(NONE_FOUND) === true
  );
}
