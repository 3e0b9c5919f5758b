import type { OpenSurface } from './surface.ts';
import { airViscosity, massRate } from './transfer.ts';

/**
 * Evaporation of a pool in wind [g/h] by Mackay and Matsugu.
 *
 *     k = 0.0292 U^0.78 L^−0.11 Sc^−0.67      [m/h; U m/h],      flux = k M p/(R T)
 *
 * U: wind; L: length along it, m; Sc = ν/D; M: molar mass; p: vapour pressure, Pa; T: K.
 * Fitted to outdoor pans (from memory, unverified). A wind tunnel found a smaller exponent, so that it runs low in the slow air of a
 * room.
 *
 * Example: the standard tub (0.0252 m², 0.18 m long, 22 °C) at 0.2 m/s → 14.0 g/h.
 *
 * @see MACKAY1973; one restatement prints the exponent of Sc as −0.47
 */
export function mackayPool(surface: OpenSurface, speedMPerS: number): number {
  const perHour = 0.0292 * (speedMPerS * 3600) ** 0.78 * surface.lengthM ** -0.11 * schmidt(surface) ** -0.67;
  return massRate(surface, perHour / 3600);
}

/**
 * The same in metric units, as Kawamura and Mackay restate it [g/h].
 *
 *     k = 0.0048 U^(7/9) L^(−1/9) Sc^(−2/3)      [m/s; U m/s],      flux = k M p/(R T)
 *
 * Symbols, validity and example as of {@link mackayPool}: 14.0 g/h.
 *
 * @see KAWAMURA1987
 */
export function kawamuraPool(surface: OpenSurface, speedMPerS: number): number {
  const perSecond =
    0.0048 * speedMPerS ** (7 / 9) * surface.lengthM ** (-1 / 9) * schmidt(surface) ** (-2 / 3);
  return massRate(surface, perSecond);
}

function schmidt({ diffusivity, tempC }: OpenSurface): number {
  return airViscosity(tempC) / diffusivity;
}
