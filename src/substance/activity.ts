/**
 * Activity coefficients of isopropanol and water in each other, by van Laar.
 *
 *     log10 γ_ipa   = 1.042 [0.492 x_w/(1.042 x_i + 0.492 x_w)]²
 *     log10 γ_water = 0.492 [1.042 x_i/(1.042 x_i + 0.492 x_w)]²
 *
 * x are mole fractions of the pair alone, any resin left out. The constants give back the azeotrope within 0.01 of a mole fraction;
 * at bench temperature the vapour above a mixture is known to about 10 %.
 * Example: dry isopropanol has γ_ipa 1; a trace of water in it has γ_water 10^0.492 = 3.10.
 *
 * @param xIpa mole fraction x_i of isopropanol in the pair
 * @param xWater mole fraction x_w of water in the pair, 1 − x_i
 * @see AZEOVLE
 */
export function activityCoefficients(xIpa: number, xWater: number): { ipa: number; water: number } {
  const ipa = 1.042 * xIpa;
  const water = 0.492 * xWater;
  const both = ipa + water;
  return { ipa: 10 ** (1.042 * (water / both) ** 2), water: 10 ** (0.492 * (ipa / both) ** 2) };
}
