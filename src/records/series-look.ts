/**
 * Resin and water of a bath at one moment, with their bands.
 */
import { type Bath, ipaFraction, isEmpty, resinFraction, resinMass } from '../bath/state.ts';
import { bandOf } from '../belief/band.ts';
import type { Ensemble } from '../belief/ensemble.ts';

export interface Banded {
  p05: number;
  p50: number;
  p95: number;
}

/** Percent of a bath: resin in everything, water in the solvent. */
export interface Percents<Value> {
  resin: Value;
  water: Value;
}

/** The best estimate [wt%]; null for a bath that holds no solvent. */
export function percentsOf(bath: Bath): Percents<number> | null {
  if (isEmpty(bath)) return null;
  return { resin: 100 * resinFraction(bath), water: 100 * (1 - ipaFraction(bath)) };
}

/**
 * The same with bands. The scatter of washes moves the resin, and the water in the solvent not at all:
 *
 *     sd of ln(wt%) = (1 − w) s/m
 *
 * w, m: resin as a fraction, and g; s: sd of it from the washes behind, g.
 *
 * @param ensemble - brought to the moment
 */
export function bandsAt(bath: Bath, place: number, ensemble: Ensemble): Percents<Banded> | null {
  const best = percentsOf(bath);
  if (!best) return null;
  const worlds = ensemble.worlds.map(({ baths }) => percentsOf(baths[place]!) ?? best);
  const middle = ensemble.worlds[0]!.baths[place]!;
  const grams = resinMass(middle);
  const scatterSd =
    grams > 0 ? ((1 - best.resin / 100) * Math.sqrt(ensemble.scatter[place]![place]!)) / grams : 0;
  const band = (of: 'resin' | 'water', sd: number) =>
    bandOf(ensemble, { best: best[of], values: worlds.map((one) => one[of]), scatterSd: sd });
  return { resin: band('resin', scatterSd), water: band('water', 0) };
}
