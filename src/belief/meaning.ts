/**
 * What a reading would mean in wt%, taken one way or another.
 */
import { type Liquid, liquidMass, liquidResinFraction } from '../bath/liquid.ts';
import { LEAST_IPA } from '../bath/state.ts';
import type { Look } from './readings.ts';

/** A liquid by what is told of it. */
export interface Contents {
  /** Resin in everything. */
  resinWtPct: number;
  /** Water in the solvent. */
  waterWtPct: number;
}

/** Above this nothing is told: no bath comes so far. */
const MOST_RESIN_WT_PCT = 60;
const MOST_WATER_WT_PCT = 100 * (1 - LEAST_IPA);
const HALVINGS = 50;
/** Resin or water that errors of both instruments can make up, wt%: so far below nothing is taken for none. */
const ERROR_WT_PCT = 2;

/** The contents of a liquid. */
export function contentsOf(liquid: Liquid): Contents {
  const { ipaG, waterG } = liquid;
  return { resinWtPct: 100 * liquidResinFraction(liquid), waterWtPct: (100 * waterG) / (ipaG + waterG) };
}

/** The same mass of liquid with other contents. */
export function withContents(liquid: Liquid, { resinWtPct, waterWtPct }: Contents): Liquid {
  const grams = liquidMass(liquid);
  const solventG = grams * (1 - resinWtPct / 100);
  const waterG = (solventG * waterWtPct) / 100;
  return { ...liquid, resinG: grams - solventG, ipaG: solventG - waterG, waterG };
}

/**
 * The resin that explains a reading [wt%], if the solvent is what it is held to be; null when none from 0 to 60 wt% does.
 *
 * @param value as compared, see {@link Look}
 */
export function asResin(look: Look, value: number, liquid: Liquid): number | null {
  const { waterWtPct } = contentsOf(liquid);
  return solve(
    (resinWtPct) => look.see(withContents(liquid, { resinWtPct, waterWtPct })) - value,
    0,
    MOST_RESIN_WT_PCT,
  );
}

/** The water in the solvent that explains a reading [wt%], if the resin is what it is held to be; null when none does. */
export function asWater(look: Look, value: number, liquid: Liquid): number | null {
  const { resinWtPct } = contentsOf(liquid);
  return solve(
    (waterWtPct) => look.see(withContents(liquid, { resinWtPct, waterWtPct })) - value,
    0,
    MOST_WATER_WT_PCT,
  );
}

/**
 * Resin and water from a density and a refractive index of one sample: water raises the density as resin does, and hardly
 * moves the index, so the two lines cross.
 *
 * @returns null when no mixture of resin, IPA and water has both
 */
export function separated(
  density: { look: Look; value: number },
  index: { look: Look; value: number },
  liquid: Liquid,
): Contents | null {
  const resinAt = (waterWtPct: number) =>
    solve(
      (resinWtPct) => index.look.see(withContents(liquid, { resinWtPct, waterWtPct })) - index.value,
      -ERROR_WT_PCT,
      MOST_RESIN_WT_PCT,
    );
  const gap = (waterWtPct: number) => {
    const resinWtPct = resinAt(waterWtPct) ?? 0;
    return density.look.see(withContents(liquid, { resinWtPct, waterWtPct })) - density.value;
  };
  const waterWtPct = solve(gap, -ERROR_WT_PCT, MOST_WATER_WT_PCT);
  const resinWtPct = waterWtPct === null ? null : resinAt(waterWtPct);
  return waterWtPct === null || resinWtPct === null
    ? null
    : { resinWtPct: Math.max(0, resinWtPct), waterWtPct: Math.max(0, waterWtPct) };
}

/** The root of a function that changes sign once between two ends; null when it does not. */
function solve(gap: (value: number) => number, low: number, high: number): number | null {
  const atLow = gap(low);
  if (atLow === 0) return low;
  if (!(atLow * gap(high) < 0)) return null;
  let [from, to] = [low, high];
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (from + to) / 2;
    if (gap(middle) * atLow > 0) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}
