import type { OpenSurface } from './surface.ts';
import { airViscosity, massRate } from './transfer.ts';

/**
 * Mean Sherwood number of a flat plate in laminar flow [–].
 *
 *     Sh = k L/D = 0.664 Re^(1/2) Sc^(1/3),   Re = U L/ν below 5e5
 *
 * k: transfer coefficient, m/s; L: length along the flow, m; D: diffusivity, m²/s; U: m/s; ν: m²/s; Sc = ν/D.
 * Example: Re 65837, Sc 0.6025 → 144. [ASHRAE6]
 */
export function plateSherwood(reynolds: number, schmidt: number): number {
  return 0.664 * Math.sqrt(reynolds) * Math.cbrt(schmidt);
}

/**
 * Evaporation of a tub full to the rim in air that flows along it [g/h], as off a flat plate.
 *
 * Symbols as of {@link plateSherwood}. The liquid cools as it evaporates, which takes a quarter to a third off and is not counted.
 * Example: the standard tub (0.0252 m², 0.18 m, 22 °C) at 0.2 m/s → 23 g/h. [ASHRAE6]
 */
export function laminarPlate(surface: OpenSurface, speedMPerS: number): number {
  const { lengthM, diffusivity, tempC } = surface;
  const viscosity = airViscosity(tempC);
  const sherwood = plateSherwood((speedMPerS * lengthM) / viscosity, viscosity / diffusivity);
  return massRate(surface, (sherwood * diffusivity) / lengthM);
}
