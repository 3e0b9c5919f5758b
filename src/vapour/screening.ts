import { FT2_M2, kelvin, LB_G, MMHG_PA } from './constants.ts';
import type { OpenSurface } from './surface.ts';

/** ft/h in a cm/s. */
const FT_PER_H = 118.11;

/**
 * Transfer coefficient of a vapour into room air [cm/s], scaled from that of water.
 *
 *     K = 0.83 (18.02/M)^(1/3)
 *
 * M: molar mass, g/mol. Example: gasoline, M 94 → 0.478 cm/s. [CROWL, EIIP16]
 */
export function referenceCoefficient(molarMass: number): number {
  return 0.83 * (18.02 / molarMass) ** (1 / 3);
}

/**
 * Evaporation of an open surface [g/h] without any wind in it: a ceiling for a first look.
 *
 *     E = M K A p/(998.9 T)      [lb/h]
 *
 * M: g/mol; K: {@link referenceCoefficient} in ft/h; A: ft²; p: vapour pressure, mmHg; T: K.
 * Example: the standard tub (0.0252 m², 22 °C) → 62 g/h.
 *
 * @see EIIP16, CROWL
 */
export function screeningCeiling(
  surface: Pick<OpenSurface, 'areaM2' | 'molarMass' | 'pressurePa' | 'tempC'>,
): number {
  const { areaM2, molarMass, pressurePa, tempC } = surface;
  const coefficient = referenceCoefficient(molarMass) * FT_PER_H;
  const poundsPerH =
    (molarMass * coefficient * (areaM2 / FT2_M2) * (pressurePa / MMHG_PA)) / (998.9 * kelvin(tempC));
  return poundsPerH * LB_G;
}
