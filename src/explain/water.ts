/** Water in a bath. */
import { ipaFraction } from '../bath/state.ts';
import { balanceEquation } from './balance-equation.ts';
import { type Explanation, equation } from './equation.ts';
import { readingRemarks } from './reading-remarks.ts';
import type { Seen } from './seen.ts';
import { from, knownFactor, term } from './terms.ts';

/** @param place - of a bath that holds solvent */
export function explainWater(seen: Seen, place: number): Explanation {
  const { status } = seen;
  const bath = status.replayed.baths[place]!;
  const estimate = status.estimates[place]!;
  const grams = balanceEquation(seen, place, 'water');
  const share = equation({
    about: 'water in the solvent, resin left out',
    symbol: 'w',
    formula: '100 × m_w / (m_w + m_a)',
    value: 100 * (1 - ipaFraction(bath)),
    unit: 'wt%',
    terms: [from(grams), term('m_a', bath.ipaG, 'g', 'IPA', 'worked out')],
    sources: [],
  });
  return {
    topic: 'water',
    of: estimate.bath,
    title: `Water in the ${estimate.bath} bath`,
    equations: [grams, share],
    known: [
      { about: 'water as shown', now: estimate.waterWtPct!, unit: 'wt%' },
      knownFactor(seen, 'moisture', place),
    ],
    remarks: [
      ...readingRemarks(seen, place),
      'Some of the water comes with the solvent; the rest is taken from the room’s air while the lid is off.',
    ],
  };
}
