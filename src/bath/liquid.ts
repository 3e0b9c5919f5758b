/**
 * What an instrument sees of a liquid: resin in solvent, README.md 1.
 */
import { mixtureDensityUnchecked } from '../substance/mixture.ts';
import { mixedIndex, resinIndex, solventIndex } from '../substance/refraction.ts';
import { resinDensity } from '../substance/resin.ts';
import type { Resin } from './shop.ts';
import { type Bath, LEAST_IPA, resinMass, resinMean, solventVolume } from './state.ts';

export interface Liquid {
  resinG: number;
  ipaG: number;
  waterG: number;
  /** Of the resin in it: g/mL and n_D, both at 20 °C. */
  resinDensity: number;
  resinIndex: number;
}

/** The liquid in a bath. */
export function liquidOf(bath: Bath, resins: Resin[]): Liquid {
  return {
    resinG: resinMass(bath),
    ipaG: bath.ipaG,
    waterG: bath.waterG,
    resinDensity: resinMean(bath, resins, 'density'),
    resinIndex: resinMean(bath, resins, 'index'),
  };
}

/** Resin in everything, by mass [–]. */
export function liquidResinFraction({ resinG, ipaG, waterG }: Liquid): number {
  return resinG / (resinG + ipaG + waterG);
}

/** Mass [g]. */
export function liquidMass({ resinG, ipaG, waterG }: Liquid): number {
  return resinG + ipaG + waterG;
}

/** Volume at 20 °C [mL]. */
export function liquidVolume(liquid: Liquid): number {
  return liquid.resinG / liquid.resinDensity + solventVolume(liquid.ipaG, liquid.waterG);
}

/**
 * Density at `tempC` [g/mL], 10–40 °C.
 *
 *     1/ρ(T) = w_r/ρ_r(T) + (1 − w_r)/ρ_s(w_s, T)
 *
 * Below 40 wt% IPA in the solvent ρ_s is held at its value there.
 */
export function liquidDensity(liquid: Liquid, tempC: number): number {
  const fraction = liquidResinFraction(liquid);
  const resin = resinDensity(liquid.resinDensity, tempC);
  return 1 / (fraction / resin + (1 - fraction) / mixtureDensityUnchecked(ipaOf(liquid), tempC));
}

/**
 * Refractive index n_D at `tempC` [–], 10–40 °C.
 *
 *     (n² − 1)/(n² + 2) = Σ φ_i (n_i² − 1)/(n_i² + 2)   over resin and solvent, φ by the volumes m_r/ρ_r(T) and m_s/ρ_s(w_s, T)
 *
 * The solvent counts as one liquid, since mixing IPA and water contracts. Below 40 wt% IPA it is held at its value there.
 * Lorentz–Lorenz mixing; README.md 1, and CHU1962 in data/SOURCES.md.
 */
export function liquidIndex(liquid: Liquid, tempC: number): number {
  const weak = ipaOf(liquid);
  const resinMl = liquid.resinG / resinDensity(liquid.resinDensity, tempC);
  const solventMl = (liquid.ipaG + liquid.waterG) / mixtureDensityUnchecked(weak, tempC);
  const all = resinMl + solventMl;
  return mixedIndex([
    { volumeShare: resinMl / all, index: resinIndex(liquid.resinIndex, tempC) },
    { volumeShare: solventMl / all, index: solventIndex(weak, tempC) },
  ]);
}

function ipaOf({ ipaG, waterG }: Liquid): number {
  return Math.max(LEAST_IPA, ipaG / (ipaG + waterG));
}
