/** What the models that work with a transfer coefficient share. */
import { GAS_CONSTANT, kelvin } from './constants.ts';
import type { OpenSurface } from './surface.ts';

/**
 * Kinematic viscosity of air [m²/s].
 *
 *     ν = 1.53e-5 (T/295.15)^1.75
 *
 * T: K. 10–40 °C; the value at 22 °C is that of the handbooks, the exponent that of diffusion, so that Sc does not change with
 * temperature (a simplification: within 1 % over the range). Example: 22 °C → 1.53e-5 m²/s. [ASHRAE6]
 */
export function airViscosity(tempC: number): number {
  return 1.53e-5 * (kelvin(tempC) / 295.15) ** 1.75;
}

/** Saturated vapour over a surface [g/m³]: p M/(R T). Example: IPA at 22 °C → 122.6 g/m³. */
export function saturated({
  pressurePa,
  molarMass,
  tempC,
}: Pick<OpenSurface, 'pressurePa' | 'molarMass' | 'tempC'>): number {
  return (pressurePa * molarMass) / (GAS_CONSTANT * kelvin(tempC));
}

/** Mass that leaves a surface [g/h] through a transfer coefficient k [m/s] into air without vapour: 3600 k A c. */
export function massRate(surface: OpenSurface, k: number): number {
  return 3600 * k * surface.areaM2 * saturated(surface);
}
