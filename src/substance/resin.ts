/**
 * Density of uncured resin at a temperature, in g/mL.
 *
 *     ρ = ρ_20 [1 − 7e-4 (T − 20)]
 *
 * The expansion is that of many acrylates, ± 1e-4 per °C (common practice, no source); 10–40 °C.
 * Example: 1.11 g/mL at 20 °C is 1.1061 g/mL at 25 °C.
 *
 * @param density20 ρ_20, the density at 20 °C in g/mL
 * @param tempC temperature T in °C
 */
export function resinDensity(density20: number, tempC: number): number {
  return density20 * (1 - 7e-4 * (tempC - 20));
}
