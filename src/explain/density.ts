/** The density of a bath. */
import { bathDensity, ipaFraction, resinFraction, resinMean } from '../bath/state.ts';
import { mixtureDensity } from '../substance/mixture.ts';
import { resinDensity } from '../substance/resin.ts';
import { type Explanation, equation } from './equation.ts';
import { readingRemarks } from './reading-remarks.ts';
import type { Seen } from './seen.ts';
import { from, roomTerm, term } from './terms.ts';

/** @param place - of a bath that holds solvent of 40 wt% IPA or more */
export function explainDensity(seen: Seen, place: number): Explanation {
  const { shop, status } = seen;
  const bath = status.replayed.baths[place]!;
  const { bath: name, densityRoom } = status.estimates[place]!;
  const density20 = resinMean(bath, shop.resins, 'density');
  const solvent = term(
    'ρ_s',
    mixtureDensity(ipaFraction(bath), shop.roomC),
    'g/mL',
    'density of IPA with its water, by the formula fitted to published tables',
    'worked out',
  );
  const resin = equation({
    about: 'density of the resin at the room’s temperature',
    symbol: 'ρ_r',
    formula: 'ρ_20 × (1 − 0.0007 × (T − 20))',
    value: resinDensity(density20, shop.roomC),
    unit: 'g/mL',
    terms: [
      term('ρ_20', density20, 'g/mL', 'density of the resin in it at 20 °C', 'worked out'),
      roomTerm(seen),
    ],
    sources: ['DEFAULTS'],
    digits: 4,
  });
  const density = equation({
    about: 'density of the bath at the room’s temperature',
    symbol: 'ρ',
    formula: '1 / (w_r / ρ_r + (1 − w_r) / ρ_s)',
    value: bathDensity(bath, shop.resins, shop.roomC),
    unit: 'g/mL',
    terms: [
      term('w_r', resinFraction(bath), '', 'resin, as a mass fraction', 'worked out'),
      from(resin),
      solvent,
    ],
    sources: ['MODEL', 'CHU1962', 'TANAKA2001'],
    digits: 4,
  });
  return {
    topic: 'density',
    of: name,
    title: `Density of the ${name} bath`,
    equations: [resin, density],
    known: [{ about: 'density, for a hydrometer in the room', now: densityRoom!, unit: 'g/mL' }],
    remarks: [
      'A density cannot tell 1 wt% of resin from about 0.9 wt% of water: one reading has two meanings. Read the index as well, or dry a sample.',
      ...readingRemarks(seen, place),
    ],
  };
}
