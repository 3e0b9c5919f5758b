/**
 * What an instrument would show for any values of the unknowns: masses along their curves, then the formula of the instrument.
 */
import { type Liquid, liquidOf } from '../bath/liquid.ts';
import type { WashOutcome } from '../bath/wash.ts';
import { along, type Bend, heldShift, slope } from './bend.ts';
import type { Ensemble, SingleWash } from './ensemble.ts';
import type { Look } from './readings.ts';
import type { Sight } from './update.ts';

/** Step of ln m for the slope of an instrument's formula. */
const STEP = 1e-4;
/** How far below the middle a mass may lie, as a share. */
const LEAST_SHARE = 1e-9;

/** A figure that is always positive: its logarithm answers to the factors by curves. */
interface Curve {
  middle: number;
  bends: Bend[];
}

function curveOf(ensemble: Ensemble, values: readonly number[]): Curve {
  const middle = values[0]!;
  const logs = values.map((value) => (middle > 0 ? Math.log(Math.max(LEAST_SHARE, value / middle)) : 0));
  return { middle, bends: ensemble.bends(logs) };
}

function at({ middle, bends }: Curve, u: Float64Array): number {
  if (middle === 0) return 0;
  let shift = 0;
  for (let place = 0; place < bends.length; place += 1) shift += along(bends[place]!, u[place]!);
  return middle * Math.exp(heldShift(shift));
}

/** Adds `weight` times the slopes of the curve's logarithm. */
function addSlopes(into: Float64Array, { middle, bends }: Curve, u: Float64Array, weight: number): void {
  if (middle === 0) return;
  for (let place = 0; place < bends.length; place += 1)
    into[place]! += weight * slope(bends[place]!, u[place]!);
}

/** What is seen, and how it answers to the scatter of washes: its slopes along each z. */
export interface Scene extends Sight {
  scatterSlopes(u: Float64Array): Float64Array;
}

/**
 * An instrument in a bath.
 *
 * @param columns - grams of resin in each bath for one standard deviation of each z: rows baths
 */
export function sceneIn(
  ensemble: Ensemble,
  look: Look,
  bath: number,
  columns: readonly Float64Array[],
): Scene {
  const liquids = ensemble.worlds.map((world) => liquidOf(world.baths[bath]!, ensemble.shop.resins));
  const middle = liquids[0]!;
  const masses = ['resinG', 'ipaG', 'waterG'] as const;
  const curves = masses.map((mass) =>
    curveOf(
      ensemble,
      liquids.map((liquid) => liquid[mass]),
    ),
  );
  // The worlds hold the mean of the scatter; at z = 0 the resin is at its median.
  const relative = columns[bath]!.map((grams) => (middle.resinG > 0 ? grams / middle.resinG : 0));
  curves[0]!.middle *= Math.exp(-dot(relative, relative) / 2);
  const liquidAt = (u: Float64Array): Liquid => ({
    ...middle,
    resinG: at(curves[0]!, u),
    ipaG: at(curves[1]!, u),
    waterG: at(curves[2]!, u),
  });
  /** Change of what is seen for a change of ln m. */
  const answer = (liquid: Liquid, mass: (typeof masses)[number]): number => {
    const more = look.see({ ...liquid, [mass]: liquid[mass] * (1 + STEP) });
    const less = look.see({ ...liquid, [mass]: liquid[mass] * (1 - STEP) });
    return (more - less) / (2 * STEP);
  };
  return {
    unknowns: ensemble.axes.length,
    see: (u) => look.see(liquidAt(u)),
    slopes: (u) => {
      const slopes = new Float64Array(u.length);
      const liquid = liquidAt(u);
      masses.forEach((mass, place) => {
        addSlopes(slopes, curves[place]!, u, answer(liquid, mass));
      });
      return slopes;
    },
    scatterSlopes: (u) => {
      const perLog = answer(liquidAt(u), 'resinG');
      return relative.map((one) => one * perLog);
    },
  };
}

/** No load brings less, g: a logarithm needs something. */
const LEAST_LOAD_G = 1e-3;

/**
 * A balance under one load, in logarithms, in which the error of the balance and the scatter of the wash are what they are
 * whatever the load brings: what it brought, less what stayed on it.
 *
 *     ln(wet − clean) = ln(c − residue),   c and what never dissolved with the scatter of the wash, the last of z
 */
export function sceneOfLoad(ensemble: Ensemble, single: SingleWash, tubs: number): Scene {
  const outcomes = single.outcomes.map((outcome) => outcome ?? single.outcomes[0]!);
  const curve = (of: (outcome: WashOutcome) => number) => curveOf(ensemble, outcomes.map(of));
  const carry = curve(({ carryG }) => carryG);
  const undissolved = curve(({ undissolvedG }) => undissolvedG);
  const film = curve(({ residueG, undissolvedG }) => residueG - undissolvedG);
  for (const own of [carry, undissolved]) own.middle *= Math.exp(-(single.scatterSd ** 2) / 2);
  const cameOff = (u: Float64Array) =>
    Math.max(LEAST_LOAD_G, at(carry, u) - at(undissolved, u) - at(film, u));
  return {
    unknowns: ensemble.axes.length,
    see: (u) => Math.log(cameOff(u)),
    slopes: (u) => {
      const slopes = new Float64Array(u.length);
      const grams = cameOff(u);
      addSlopes(slopes, carry, u, at(carry, u) / grams);
      for (const left of [undissolved, film]) addSlopes(slopes, left, u, -at(left, u) / grams);
      return slopes;
    },
    scatterSlopes: (u) => {
      const slopes = new Float64Array(tubs + 1);
      slopes[tubs] = (single.scatterSd * (at(carry, u) - at(undissolved, u))) / cameOff(u);
      return slopes;
    },
  };
}

/** The logarithm of a weighed loss, as compared. */
export function logOfLoad(lossG: number): number {
  return Math.log(Math.max(LEAST_LOAD_G, lossG));
}

/** Σ x y. */
export function dot(one: ArrayLike<number>, other: ArrayLike<number>): number {
  let sum = 0;
  for (let place = 0; place < one.length; place += 1) sum += one[place]! * other[place]!;
  return sum;
}
