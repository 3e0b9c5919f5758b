/** Water alone: density, vapour pressure, diffusion in air. Source ids: data/SOURCES.md. */

/**
 * Density of air-free water at one atmosphere, in g/mL.
 *
 *     ρ = 0.999974950 [1 − (T − 3.983035)² (T + 301.797)/(522528.9 (T + 69.34881))]
 *
 * Valid 0–40 °C, within 1e-6 g/mL; ordinary tap or demineralised water holds air and reads up to 3e-6 less.
 * Example: 20 °C gives 0.998207 g/mL.
 *
 * @param tempC temperature T in °C
 * @see TANAKA2001
 */
export function waterDensity(tempC: number): number {
  const fromDensest = tempC - 3.983035;
  return 0.99997495 * (1 - (fromDensest * fromDensest * (tempC + 301.797)) / (522528.9 * (tempC + 69.34881)));
}

/**
 * Vapour pressure of water, in Pa.
 *
 *     log10 p = 10.19621 − 1730.63/(T_K − 39.724)
 *
 * The usual Antoine constants for 1–100 °C; at 10–40 °C it reads 0.1–0.6 % below the steam tables.
 * Example: 20 °C gives 2331 Pa, the steam tables 2339 Pa (from memory).
 *
 * @param tempC temperature in °C; T_K = tempC + 273.15
 */
export function waterVapourPressurePa(tempC: number): number {
  return 10 ** (10.19621 - 1730.63 / (tempC + 273.15 - 39.724));
}

/**
 * Diffusivity of water vapour in air at one atmosphere, in m²/s.
 *
 *     D = 2.50e-5 (T_K/295.15)^1.75
 *
 * Valid 10–40 °C; published values at 25 °C spread by about 5 % (0.25–0.26 cm²/s, from memory).
 * Example: 22 °C gives 2.50e-5 m²/s.
 *
 * @param tempC temperature in °C; T_K = tempC + 273.15
 * @see FULLER, the exponent
 */
export function waterDiffusivityInAir(tempC: number): number {
  return 2.5e-5 * ((tempC + 273.15) / 295.15) ** 1.75;
}
