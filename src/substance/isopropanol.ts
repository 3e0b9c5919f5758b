/** Dry isopropanol alone: density, vapour pressure, diffusion in air. Source ids: data/SOURCES.md. */

/**
 * Density of dry isopropanol, in g/mL.
 *
 *     ρ = 0.785157 − 8.29933e-4 d − 1.76229e-6 d²,   d = T − 20
 *
 * Fitted to five sets of measurements at 15–55 °C with a greatest deviation of 0.00011 g/mL; 10–15 °C is a short way
 * beyond them. Engineering correlations read up to 0.003 g/mL more and are of no use for a hydrometer.
 * Example: 25 °C gives 0.780963 g/mL; DAOUDI2012 measured 0.780987.
 *
 * @param tempC temperature T in °C
 * @see FITQUAD, DAOUDI2012
 */
export function ipaDensity(tempC: number): number {
  const d = tempC - 20;
  return 0.785157 - 8.29933e-4 * d - 1.76229e-6 * d * d;
}

/**
 * Vapour pressure of dry isopropanol, in Pa.
 *
 *     log10 p = 10.24268 − 1580.92/(T_K − 53.54)
 *
 * Valid 8–100 °C; at 20–25 °C the better published values lie from 5 % below it to 1 % above.
 * Example: 20 °C gives 4413.6 Pa, which is 33.1 mmHg; NIOSH0359 prints 33 mmHg.
 *
 * @param tempC temperature in °C; T_K = tempC + 273.15
 * @see POLING, NIOSH0359
 */
export function ipaVapourPressurePa(tempC: number): number {
  return 10 ** (10.24268 - 1580.92 / (tempC + 273.15 - 53.54));
}

/**
 * Diffusivity of isopropanol vapour in air at one atmosphere, in m²/s.
 *
 *     D = 1.01e-5 (T_K/295.15)^1.75
 *
 * Valid 10–40 °C; published values at 25 °C are 0.1016–0.103 cm²/s.
 * Example: 25 °C gives 1.028e-5 m²/s.
 *
 * @param tempC temperature in °C; T_K = tempC + 273.15
 * @see EPI2015, NSRDS, FULLER
 */
export function ipaDiffusivityInAir(tempC: number): number {
  return 1.01e-5 * ((tempC + 273.15) / 295.15) ** 1.75;
}
