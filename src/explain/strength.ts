/** The strength of a solvent by mass and by volume. */
import { ipaDensity } from '../substance/isopropanol.ts';
import { volumeFraction } from '../substance/mixture.ts';
import { type Explanation, equation } from './equation.ts';
import type { Seen } from './seen.ts';
import { term } from './terms.ts';

/** @param name - of a solvent of the shop */
export function explainStrength({ shop, header }: Seen, name: string): Explanation {
  const { ipaFraction, density } = shop.solvents.get(name)!;
  const own = header.solvents?.[name];
  const basis = own === undefined ? 'catalogue' : 'ledger';
  const dry = ipaDensity(20);
  return {
    topic: 'strength',
    of: name,
    title: `Strength of the solvent ${name}`,
    equations: [
      equation({
        about: 'IPA by volume, of volumes at 20 °C before mixing and after',
        symbol: 'v',
        formula: '100 × w × ρ_s / ρ_a',
        value: 100 * volumeFraction(ipaFraction, 20),
        unit: 'vol%',
        terms: [
          term('w', ipaFraction, '', 'IPA by mass, as a fraction', basis),
          term('ρ_s', density, 'g/mL', 'density of the solvent, 20 °C', 'worked out'),
          term('ρ_a', dry, 'g/mL', 'density of dry IPA, 20 °C', 'worked out'),
        ],
        sources: ['MODEL', 'CHU1962', 'FITQUAD'],
      }),
    ],
    known: [],
    remarks: [
      `${(100 * ipaFraction).toFixed(1)} wt%. Labels of 70 % and 91 % mean percent by volume, which is a larger number for the same bottle.`,
      'A hydrometer tells: bathbook strength.',
    ],
  };
}
