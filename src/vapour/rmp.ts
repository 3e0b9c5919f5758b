import { FT2_M2, kelvin, LB_G, MMHG_PA } from './constants.ts';
import type { OpenSurface } from './surface.ts';

/**
 * Evaporation of a pool in wind [g/h], as US EPA has it worked out for spills out of doors.
 *
 *     QR = 0.284 U^0.78 M^(2/3) A p/(82.05 T)      [lb/min]
 *
 * U: wind, m/s; M: molar mass, g/mol; A: surface, ft²; p: vapour pressure, mmHg; T: temperature, K.
 * Made for outdoor pools, and carried below 1 m/s here; it knows no freeboard, no cooling of the liquid and no still air. Against a
 * measured pool of IPA and water it is 2 to 2.5 times too high.
 *
 * Example: IPA, 33 mmHg, 1 ft², 1.5 m/s, 20 °C → 0.00820 lb/min. The standard tub (0.0252 m², 22 °C) at 0.2 m/s → 14.2 g/h.
 *
 * @see EPARMP equation D-1
 */
export function rmpPool(
  surface: Pick<OpenSurface, 'areaM2' | 'molarMass' | 'pressurePa' | 'tempC'>,
  speedMPerS: number,
): number {
  const { areaM2, molarMass, pressurePa, tempC } = surface;
  const poundsPerMin =
    (0.284 * speedMPerS ** 0.78 * molarMass ** (2 / 3) * (areaM2 / FT2_M2) * (pressurePa / MMHG_PA)) /
    (82.05 * kelvin(tempC));
  return poundsPerMin * LB_G * 60;
}
