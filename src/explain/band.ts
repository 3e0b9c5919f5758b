/** Where a band comes from: what is known of each factor, and how far each moves the resin of a bath. */

import { priorMedians } from '../bath/replay.ts';
import { resinFraction } from '../bath/state.ts';
import { along } from '../belief/bend.ts';
import { PRIOR_SD, WASH_SCATTER } from '../belief/factors.ts';
import { Z95 } from '../belief/quantile.ts';
import { factorName } from '../outlook/factors-band.ts';
import { type Explanation, equation } from './equation.ts';
import type { Seen } from './seen.ts';
import { headBasis, knownFactor, term } from './terms.ts';

/** @param place - of a bath that holds solvent */
export function explainBand(seen: Seen, place: number): Explanation {
  const { shop, status, header } = seen;
  const { bath, resinWtPct } = status.estimates[place]!;
  const median = priorMedians(shop).carry;
  const upper = equation({
    about: 'the carry-over factor before any reading, 95 % point',
    symbol: 'κ_95',
    formula: 'κ × exp(z × σ)',
    value: median * Math.exp(Z95 * PRIOR_SD.carry),
    unit: '',
    terms: [
      term('κ', median, '', 'its median', headBasis(header.factors?.carry)),
      term('z', Z95, '', 'standard deviations from the middle to the 95 % point', 'worked out'),
      term('σ', PRIOR_SD.carry, '', 'standard deviation of its logarithm', 'default'),
    ],
    sources: ['NISTNORMAL', 'DEFAULTS'],
  });
  return {
    topic: 'band',
    of: bath,
    title: `The band of the resin in the ${bath} bath`,
    equations: median > 0 ? [upper] : [],
    known: [
      { about: 'resin as shown', now: resinWtPct!, unit: 'wt%' },
      ...(['carry', 'drag', 'dissolution'] as const).map((factor) => knownFactor(seen, factor)),
      knownFactor(seen, 'evaporation', place),
      knownFactor(seen, 'moisture', place),
    ],
    remarks: [
      'The band runs from the 5 % to the 95 % point: nine chances in ten that the truth lies in it, if the model holds.',
      ...causes(seen, place),
      `Each wash scatters by itself as well, by about ${Math.round(100 * WASH_SCATTER)} % of its carry-over.`,
      'bathbook calibrate says which reading would narrow the band most.',
    ],
  };
}

/** The factors that move the resin of the bath, the strongest first: from its best estimate to their own 95 % points. */
function causes({ shop, status }: Seen, place: number): string[] {
  const { ensemble } = status.belief;
  const values = ensemble.worlds.map(({ baths }) => Math.log(resinFraction(baths[place]!)));
  if (!values.every(Number.isFinite)) return [];
  const told = ensemble
    .bends(values)
    .map((bend, nth) => ({ name: factorName(ensemble.axes[nth]!, shop), shift: along(bend, Z95) }))
    .map(({ name, shift }) => ({ name, percent: Math.round(100 * Math.expm1(shift)) }))
    .filter(({ percent }) => percent !== 0)
    .sort((one, other) => Math.abs(other.percent) - Math.abs(one.percent))
    .slice(0, 3)
    .map(({ name, percent }) => `${name} ${percent > 0 ? '+' : '−'}${Math.abs(percent)} %`);
  if (told.length === 0) return [];
  return [`At its 95 % point each factor alone would change this figure by: ${told.join(', ')}.`];
}
