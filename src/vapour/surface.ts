/** An open liquid surface as the published models see it, and that of a bath. */
import { MOLAR_MASS } from '../bath/air.ts';
import { type Bath, resinMass } from '../bath/state.ts';
import { activityCoefficients } from '../substance/activity.ts';
import { ipaVapourPressurePa } from '../substance/isopropanol.ts';

/** What every model is given; each takes what it needs. */
export interface OpenSurface {
  areaM2: number;
  /** Along the wind, m. */
  lengthM: number;
  /** From the liquid up to the rim, m. */
  freeboardM: number;
  tempC: number;
  molarMass: number;
  /** Of the vapour at the surface, Pa. */
  pressurePa: number;
  /** In air, m²/s. */
  diffusivity: number;
}

/**
 * Activity of isopropanol in a bath [–], 1 for dry solvent without resin.
 *
 *     a = γ n_ipa/(n_ipa + n_water + n_resin)
 *
 * n: moles, resin counted at 300 g/mol; γ: van Laar, from the pair alone. Known to about 10 % at bench temperature.
 * Example: 91 % by volume gives 0.73, 70 % by volume 0.59 (DEFAULTEVAP). [AZEOVLE]
 */
export function ipaActivity(bath: Pick<Bath, 'ipaG' | 'waterG' | 'resin'>): number {
  const ipa = bath.ipaG / MOLAR_MASS.ipa;
  const water = bath.waterG / MOLAR_MASS.water;
  const all = ipa + water + resinMass(bath as Bath) / MOLAR_MASS.resin;
  return (activityCoefficients(ipa / (ipa + water), water / (ipa + water)).ipa * ipa) / all;
}

/** Vapour pressure of isopropanol over a liquid [Pa]: activity times that of dry isopropanol, 10–40 °C. [POLING] */
export function pressureOver(activity: number, tempC: number): number {
  return activity * ipaVapourPressurePa(tempC);
}
