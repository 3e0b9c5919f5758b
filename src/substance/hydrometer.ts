/** What a hydrometer scale means: specific gravity, and the glass at another temperature. Source ids: data/SOURCES.md. */
import { waterDensity } from './water.ts';

/** Scales of specific gravity: liquid at the first temperature over water at the second. */
export const SG_REFERENCES = {
  '20/20': { liquidC: 20, waterC: 20 },
  '25/25': { liquidC: 25, waterC: 25 },
  '60/60F': { liquidC: (60 - 32) / 1.8, waterC: (60 - 32) / 1.8 },
} as const;

export type SgReference = keyof typeof SG_REFERENCES;

/**
 * Density of a reading on a specific gravity scale, in g/mL.
 *
 *     ρ = SG ρ_water(t₂)
 *
 * t₂ is the scale's water temperature: 0.998207, 0.997047 and 0.999017 g/mL for 20/20, 25/25 and 60/60 °F. Specific
 * gravity by weighing in air reads 0.0003 less for isopropanol than the ratio of true densities used here (USP841).
 * Example: SG 20/20 0.7866 is 0.7852 g/mL, dry isopropanol at 20 °C.
 *
 * @see TANAKA2001, USP841
 */
export function densityFromSg(sg: number, reference: SgReference): number {
  return sg * waterDensity(SG_REFERENCES[reference].waterC);
}

/** Reading on a specific gravity scale of a density in g/mL; the inverse of {@link densityFromSg}. */
export function sgFromDensity(density: number, reference: SgReference): number {
  return density / waterDensity(SG_REFERENCES[reference].waterC);
}

/**
 * Density of the liquid at its temperature from the reading of a glass hydrometer made for another, in g/mL.
 *
 *     ρ = R [1 − 25e-6 (T − T_ref)]
 *
 * The glass grows and floats a little higher: 0.0002 g/mL for ten degrees. The liquid itself changes forty times as
 * much; that is not corrected here, the density is that at T. A reading on a specific gravity scale goes through
 * {@link densityFromSg} first.
 * Example: 0.8000 read at 30 °C on a glass made for 20 °C is 0.7998 g/mL at 30 °C.
 *
 * @param glass.reading R in g/mL
 * @param glass.tempC T, temperature of the liquid in °C
 * @param glass.madeForC T_ref, the temperature printed on the glass in °C
 * @see ISO1768
 */
export function glassCorrected(glass: { reading: number; tempC: number; madeForC: number }): number {
  return glass.reading * (1 - 25e-6 * (glass.tempC - glass.madeForC));
}
