/** Refractive index of fresh solvent, of resin and of their mixtures. Source ids: data/SOURCES.md. */

/** n_D at 20 °C by mass fraction of isopropanol; between the points linear. The 0.87 point bridges a gap in CHU1962. */
const INDEX_20C = [
  [0.3999, 1.3638],
  [0.4936, 1.3679],
  [0.6052, 1.3718],
  [0.6924, 1.3742],
  [0.87, 1.377],
  [1, 1.3772],
] as const;

/**
 * Refractive index n_D of isopropanol with water.
 *
 *     n = n_20(w) − [3.2e-4 + 2.0e-4 (w − 0.4)] (T − 20),   n_20 by straight lines through INDEX_20C
 *
 * Valid for w of 0.40–1 at 10–40 °C, within about 0.0006 of the sources, which differ among themselves by 0.001.
 * Nearly flat above 80 wt%: it says next to nothing about water there, and so much more about resin.
 * Example: dry at 25 °C gives 1.3750; CHU1962 measured 1.3749.
 *
 * @param ipaFraction w, mass of isopropanol/mass of isopropanol and water
 * @param tempC temperature T in °C
 * @see CHU1962, ILOUKHANI2009
 */
export function solventIndex(ipaFraction: number, tempC: number): number {
  let next = 1;
  while (next < INDEX_20C.length - 1 && ipaFraction > INDEX_20C[next]![0]) next += 1;
  const [w0, n0] = INDEX_20C[next - 1]!;
  const [w1, n1] = INDEX_20C[next]!;
  const at20 = n0 + ((n1 - n0) * (ipaFraction - w0)) / (w1 - w0);
  return at20 - (3.2e-4 + 2e-4 * (ipaFraction - 0.4)) * (tempC - 20);
}

/**
 * Refractive index n_D of uncured resin at a temperature.
 *
 *     n = n_20 − 4.0e-4 (T − 20)
 *
 * The slope is that of many organic liquids, ± 1e-4 (common practice, no source).
 * Example: 1.490 at 20 °C is 1.488 at 25 °C.
 *
 * @param index20 n_20, the index at 20 °C
 * @param tempC temperature T in °C
 */
export function resinIndex(index20: number, tempC: number): number {
  return index20 - 4e-4 * (tempC - 20);
}

/**
 * Refractive index of a mixture by the Lorentz–Lorenz rule.
 *
 *     (n² − 1)/(n² + 2) = Σ φ_i (n_i² − 1)/(n_i² + 2)
 *
 * Holds for liquids that mix without a change of volume. Isopropanol and water contract: give them as one liquid, by
 * {@link solventIndex}, or the result is up to 0.011 low (CHU1962).
 * Example: one tenth of 1.490 and nine tenths of 1.3772 give 1.3881.
 *
 * @param parts φ_i, the share of the unmixed volumes, adding up to 1, and n_i, the index, of each liquid
 */
export function mixedIndex(parts: readonly { volumeShare: number; index: number }[]): number {
  let refraction = 0;
  for (const { volumeShare, index } of parts) {
    const square = index * index;
    refraction += (volumeShare * (square - 1)) / (square + 2);
  }
  return Math.sqrt((1 + 2 * refraction) / (1 - refraction));
}
