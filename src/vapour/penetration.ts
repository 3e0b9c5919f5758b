import { FT_M, kelvin, MMHG_PA } from './constants.ts';
import type { OpenSurface } from './surface.ts';

/**
 * Evaporation of an open surface in slow air [g/h] by penetration theory, as US EPA uses it for workplaces.
 *
 *     G = 8.24e-8 M^0.835 p (1/29 + 1/M)^0.25 v^0.5 A/(T^0.05 d^0.5 P^0.5)      [g/s]
 *
 * M: molar mass, g/mol; p: vapour pressure over the liquid (mole fraction and activity in it), mmHg; v: air speed, ft/min, where
 * cm/s or m/s is the usual error; A: surface, cm²; T: K; d: length along the air, cm; P: atm, taken as 1.
 * For air below 100 ft/min (0.508 m/s); faster air has another formula that does not join it. It knows no boundary layer and lies 1.8
 * to 2 times above a laminar plate: a deliberate over-estimate, which is why cautions rest on it.
 *
 * Example: M 100, half of 10 mmHg, 30 ft/min, 1000 cm², 298 K, 30 cm → 0.00666 g/s. The standard tub at 0.25 m/s → 51 g/h.
 *
 * @see EPAOPPT
 */
export function penetration(
  surface: Pick<OpenSurface, 'areaM2' | 'lengthM' | 'molarMass' | 'pressurePa' | 'tempC'>,
  speedMPerS: number,
): number {
  const { areaM2, lengthM, molarMass, pressurePa, tempC } = surface;
  const feetPerMin = (speedMPerS * 60) / FT_M;
  const gramsPerS =
    (8.24e-8 *
      molarMass ** 0.835 *
      (pressurePa / MMHG_PA) *
      (1 / 29 + 1 / molarMass) ** 0.25 *
      Math.sqrt(feetPerMin) *
      (areaM2 * 1e4)) /
    (kelvin(tempC) ** 0.05 * Math.sqrt(lengthM * 100));
  return gramsPerS * 3600;
}
