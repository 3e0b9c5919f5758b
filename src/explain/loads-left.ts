/** How many more loads: counted one by one at the mean of the recent ones. */

import { figuresOf } from '../bath/figures.ts';
import { copyBath, isEmpty } from '../bath/state.ts';
import { emptyTally } from '../bath/tally.ts';
import { carryOf, washLoad } from '../bath/wash.ts';
import { type MeanLoad, meanLoad } from '../outlook/mean-load.ts';
import { type Explanation, equation } from './equation.ts';
import type { Seen } from './seen.ts';
import { factorTerm, knownFactor, term } from './terms.ts';

/** Null where there has been no wash, or a bath on its way is empty. */
export function explainLoadsLeft(seen: Seen): Explanation | null {
  const { status, shop } = seen;
  const mean = meanLoad(status.replayed, shop);
  const { left } = status;
  if (!mean || !left) return null;
  const { load, basis } = mean;
  const carry = equation({
    about: `resin of a load, as the mean of the last ${basis} wash${basis === 1 ? '' : 'es'}`,
    symbol: 'c',
    formula: 'κ_c × F + r',
    value: carryOf(load, status.factors.carry).carryG,
    unit: 'g',
    terms: [
      factorTerm(seen, { factor: 'carry', symbol: 'κ_c', value: status.factors.carry }),
      term('F', load.filmG, 'g', 'mean film after any pre-rinse, before the factor', 'worked out'),
      term('r', load.trappedG, 'g', 'mean of what was trapped, or weighed in', 'worked out'),
    ],
    sources: ['DEFAULTS'],
  });
  const { loads, p05 = loads, p95 = loads } = left;
  return {
    topic: 'loads-left',
    of: null,
    title: 'Loads left',
    equations: [carry],
    known: [
      { about: 'loads left', now: { p05, p50: loads, p95 }, unit: 'loads' },
      knownFactor(seen, 'carry'),
    ],
    remarks: [
      ...counted(seen, mean),
      'Counted one load after the other, with nothing evaporating and nothing topped up; the count ends with the last load that leaves every bath below its change limit.',
    ],
  };
}

/** The bath that decides, now and around the load that brings it over. */
function counted({ status, shop }: Seen, { load }: MeanLoad): string[] {
  const { loads, bath, because } = status.left!;
  const place = bath === null ? undefined : shop.tubPlace.get(bath);
  if (place === undefined || because === null) return ['No limit is in sight.'];
  if (because === 'level') return [`The ${bath} bath would run dry first, after ${loads} loads.`];
  const after = (count: number): string => {
    const baths = status.replayed.baths.map(copyBath);
    for (let nth = 0; nth < count && !baths.some(isEmpty); nth += 1)
      washLoad(baths, load, shop, status.factors, emptyTally());
    const figures = figuresOf(baths[place]!, shop.resins, shop.roomC);
    return ((because === 'resin' ? figures.resinWtPct : figures.waterWtPct) ?? 0).toFixed(2);
  };
  const limit = shop.tubs[place]!.limits[because][1];
  return [
    `The ${bath} bath decides: ${because} ${after(0)} wt% now, ${after(loads)} after ${loads} loads, ${after(loads + 1)} after ${loads + 1}; its change limit is ${limit}.`,
  ];
}
