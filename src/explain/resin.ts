/** Resin in a bath: how it came there, and the three percents. */
import { figuresOf } from '../bath/figures.ts';
import { resinMean, solventMass } from '../bath/state.ts';
import { balanceEquation } from './balance-equation.ts';
import { type Equation, type Explanation, equation } from './equation.ts';
import { readingRemarks } from './reading-remarks.ts';
import type { Seen } from './seen.ts';
import { from, knownFactor, term } from './terms.ts';
import { volumeFrom } from './volume.ts';

/** @param place - of a bath that holds solvent */
export function explainResin(seen: Seen, place: number): Explanation {
  const { shop, status } = seen;
  const bath = status.replayed.baths[place]!;
  const figures = figuresOf(bath, shop.resins, shop.roomC);
  const estimate = status.estimates[place]!;
  const grams = balanceEquation(seen, place, 'resin');
  const solvent = term('m_s', solventMass(bath), 'g', 'solvent, IPA and water', 'worked out');
  const share = equation({
    about: 'resin in everything, by mass: the figure of the limits',
    symbol: 'w',
    formula: '100 × m_r / (m_r + m_s)',
    value: figures.resinWtPct!,
    unit: 'wt%',
    terms: [from(grams), solvent],
    sources: [],
  });
  const volume = volumeFrom(seen, place, from(grams));
  return {
    topic: 'resin',
    of: estimate.bath,
    title: `Resin in the ${estimate.bath} bath`,
    equations: [grams, share, volume, ...otherShares(seen, place, { grams, volume })],
    known: [
      { about: 'resin as shown', now: estimate.resinWtPct!, unit: 'wt%' },
      knownFactor(seen, 'carry'),
      knownFactor(seen, 'drag'),
    ],
    remarks: readingRemarks(seen, place),
  };
}

/** The other two percents: grams in a litre, and share of the volume. */
function otherShares(
  { shop, status }: Seen,
  place: number,
  { grams, volume }: { grams: Equation; volume: Equation },
): Equation[] {
  const bath = status.replayed.baths[place]!;
  const density = resinMean(bath, shop.resins, 'density');
  const { resinGPerL, resinVolPct } = figuresOf(bath, shop.resins, shop.roomC);
  return [
    equation({
      about: 'the same in grams a litre',
      symbol: 'c',
      formula: '1000 × m_r / V',
      value: resinGPerL!,
      unit: 'g/L',
      terms: [from(grams), from(volume)],
      sources: [],
    }),
    equation({
      about: 'and as a share of the volume',
      symbol: 'φ',
      formula: '100 × m_r / ρ_r / V',
      value: resinVolPct!,
      unit: 'vol%',
      terms: [
        from(grams),
        term('ρ_r', density, 'g/mL', 'density of the resin in it at 20 °C', 'worked out'),
        from(volume),
      ],
      sources: [],
    }),
  ];
}
