/** Rules of thumb that know a surface and nothing of the room. */
import { FT2_M2, LB_G } from './constants.ts';
import type { OpenSurface } from './surface.ts';

/**
 * Loss of a cold cleaner by its surface [g/h].
 *
 *     E = 0.08 A      [lb/h; A ft²]
 *
 * A state's worksheet prints it after US EPA. It stands for whole units in use, what parts carry out included, with mineral spirits
 * (from memory, unverified), at no stated temperature. Example: the standard tub (0.0252 m²) → 9.84 g/h. [AP42.4.6]
 */
export function coldCleaner({ areaM2 }: Pick<OpenSurface, 'areaM2'>): number {
  return 0.08 * (areaM2 / FT2_M2) * LB_G;
}

/**
 * Evaporation of an open pool by its vapour pressure alone [g/h].
 *
 *     flux = 1464 p M      [µg/m²h]
 *
 * p: Pa; M: g/mol. The prefix of the unit is inferred; quiet air. Example: IPA at 20 °C → 388 g/m²h, at 25 °C 530. [MACKAYVW]
 */
export function quietPool({
  areaM2,
  pressurePa,
  molarMass,
}: Pick<OpenSurface, 'areaM2' | 'pressurePa' | 'molarMass'>): number {
  return 1464e-6 * pressurePa * molarMass * areaM2;
}
