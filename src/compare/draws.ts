/**
 * Worlds drawn from what is known: factors that fit the readings, with their correlations.
 */
import type { AllFactors } from '../bath/replay.ts';
import { along, heldShift } from '../belief/bend.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import { copyFactors, factorOn, setFactor } from '../belief/factors.ts';
import { drawer, normal } from './schedule.ts';
import type { WorldFactors } from './world.ts';

/**
 * Draws factors: with u independent standard normal numbers,
 *
 *     ln κ = ln κ_middle + Σ y_j(u_j)
 *
 * and y_j the curve of ln κ along the unknown j of the belief. Every second one is the one before mirrored, −u, so that their
 * mean is that of the belief whatever the number.
 */
export function drawFactors(ensemble: Ensemble, many: number, seed: number): AllFactors[] {
  const draw = drawer(seed);
  const { axes, worlds } = ensemble;
  const bends = axes.map((axis) =>
    ensemble.bends(worlds.map(({ factors }) => Math.log(factorOn(factors, axis)))),
  );
  const drawn: AllFactors[] = [];
  let at: number[] = [];
  for (let one = 0; one < many; one += 1) {
    at = axes.map((_, place) => (one % 2 === 0 ? normal(draw) : -at[place]!));
    const factors = copyFactors(worlds[0]!.factors);
    axes.forEach((axis, place) => {
      const shift = bends[place]!.reduce((sum, bend, other) => sum + along(bend, at[other]!), 0);
      setFactor(factors, axis, factorOn(factors, axis) * Math.exp(heldShift(shift)));
    });
    drawn.push(factors);
  }
  return drawn;
}

/** The factors for the baths of a plant, each with the air of its place. */
export function factorsFor(places: readonly number[], factors: AllFactors): WorldFactors {
  const { carry, drag, dissolution, air } = factors;
  return {
    carry,
    drag,
    dissolution,
    evaporation: Float64Array.from(places, (place) => air[place]!.evaporation),
    moisture: Float64Array.from(places, (place) => air[place]!.moisture),
  };
}
