/**
 * What is known of the factors, and of the last wash, with bands.
 */

import type { AllFactors, Replay } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { bandOf } from '../belief/band.ts';
import type { Belief } from '../belief/belief.ts';
import type { Ensemble, WashFigure } from '../belief/ensemble.ts';
import { type Axis, factorOn } from '../belief/factors.ts';
import { best, type Quantity } from './quantity.ts';

/** One factor with its band; without one where the ledger switches it off. */
export function factorBand(factors: AllFactors, belief: Belief, axis: Omit<Axis, 'priorSd'>): Quantity {
  const { ensemble } = belief;
  const known = ensemble.axes.find(({ name, tub }) => name === axis.name && tub === axis.tub);
  if (!known) return best(factorOn(factors, { ...axis, priorSd: 0 }));
  const values = ensemble.worlds.map((world) => factorOn(world.factors, known));
  return bandOf(ensemble, { best: factorOn(factors, known), values });
}

/** A factor by its name, and the bath of its place. */
export function factorName({ name, tub }: Omit<Axis, 'priorSd'>, shop: Shop): string {
  const words = { carry: 'carry-over', drag: 'drag-out', dissolution: 'dissolution time' };
  if (name === 'evaporation' || name === 'moisture') return `${name}, ${shop.tubs[tub!]!.name}`;
  return words[name];
}

/** The last wash with bands. */
export interface LastWash {
  id: string;
  carryG: Quantity;
  dragMl: Quantity[];
  /** p50 is not a number where the surface of the load is not known. */
  residueUgPerCm2: Quantity;
  areaCm2: number;
}

/**
 * @param ensemble - without it, best estimates alone
 * @returns null when there has been no wash
 */
export function lastWashOf(
  { recent }: Pick<Replay, 'recent'>,
  ensemble: Ensemble | undefined,
): LastWash | null {
  const wash = recent.at(-1);
  if (!wash) return null;
  const { outcome, load, entry } = wash;
  const last = ensemble?.last;
  const band = (value: number, figure: WashFigure | undefined, given = false): Quantity =>
    ensemble && figure && !given && value > 0 ? scaledBand(ensemble, value, figure) : best(value);
  const givenDrag = load.givenDragMl !== undefined;
  return {
    id: entry.event.id,
    carryG: band(outcome.carryG, last?.carry, load.givenCarryG !== undefined),
    dragMl: outcome.dragMl.map((ml, step) => band(ml, last?.drags[step], givenDrag)),
    residueUgPerCm2: band(outcome.residueUgPerCm2, last?.residue),
    areaCm2: outcome.areaCm2,
  };
}

/** The worlds took a few washes together: only how they differ from their middle is the last one's. */
function scaledBand(ensemble: Ensemble, value: number, { values, scatterSd, moved }: WashFigure): Quantity {
  const middle = values[0]!;
  if (!(middle > 0)) return best(value);
  const now = value * moved;
  // As everywhere, the middle holds the mean of the scatter, and its median is told.
  const mean = Math.exp(scatterSd ** 2 / 2);
  return bandOf(ensemble, { best: now, values: values.map((one) => (one / middle) * now * mean), scatterSd });
}
