/** The volume of a bath. */
import { bathVolume, resinMass, resinMean, solventMass, solventVolume } from '../bath/state.ts';
import { balanceEquation } from './balance-equation.ts';
import { type Equation, type Explanation, equation, type Term } from './equation.ts';
import { readingRemarks } from './reading-remarks.ts';
import type { Seen } from './seen.ts';
import { knownFactor, term } from './terms.ts';

/** @param place - of a bath that holds solvent */
export function explainVolume(seen: Seen, place: number): Explanation {
  const { status, shop } = seen;
  const estimate = status.estimates[place]!;
  const bath = status.replayed.baths[place]!;
  const resin = term('m_r', resinMass(bath), 'g', 'resin', 'worked out');
  return {
    topic: 'level',
    of: estimate.bath,
    title: `Volume of the ${estimate.bath} bath`,
    equations: [balanceEquation(seen, place, 'ipa'), volumeFrom(seen, place, resin)],
    known: [
      { about: 'volume as shown', now: inLitres(estimate.volumeMl), unit: 'L' },
      knownFactor(seen, 'evaporation', place),
    ],
    remarks: [
      `The mark is at ${shop.tubs[place]!.markMl / 1000} L. Volumes are at 20 °C.`,
      ...readingRemarks(seen, place),
    ],
  };
}

function inLitres({ p05, p50, p95 }: { p05?: number; p50: number; p95?: number }) {
  if (p05 === undefined || p95 === undefined) return { p50: p50 / 1000 };
  return { p05: p05 / 1000, p50: p50 / 1000, p95: p95 / 1000 };
}

/** From its resin and its solvent. */
export function volumeFrom({ shop, status }: Seen, place: number, grams: Term): Equation {
  const bath = status.replayed.baths[place]!;
  const density = resinMean(bath, shop.resins, 'density');
  const solventG = solventMass(bath);
  return equation({
    about: 'volume',
    symbol: 'V',
    formula: 'm_r / ρ_r + m_s / ρ_s',
    value: bathVolume(bath, shop.resins),
    unit: 'mL',
    terms: [
      { ...grams, symbol: 'm_r' },
      term('ρ_r', density, 'g/mL', 'density of the resin in it at 20 °C', 'worked out'),
      term('m_s', solventG, 'g', 'solvent, IPA and water', 'worked out'),
      term(
        'ρ_s',
        solventG / solventVolume(bath.ipaG, bath.waterG),
        'g/mL',
        'density of IPA with its water, 20 °C, by the formula fitted to published tables',
        'worked out',
      ),
    ],
    sources: ['MODEL', 'CHU1962'],
    digits: 4,
  });
}
