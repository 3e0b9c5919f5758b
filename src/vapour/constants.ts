/** Constants and exact units of the vapour models. */

/** J/(mol K), exact in the SI. */
export const GAS_CONSTANT = 8.314462618;
/** Pa; one atmosphere, exact. */
export const PRESSURE_PA = 101_325;
/** Pa in a millimetre of mercury (NIST SP 811, appendix B). */
export const MMHG_PA = 133.322368;
/** g in a pound, m² in a square foot, m in a foot; exact. */
export const LB_G = 453.59237;
export const FT2_M2 = 0.09290304;
export const FT_M = 0.3048;

/** Absolute temperature [K] of one in °C. */
export function kelvin(tempC: number): number {
  return tempC + 273.15;
}
