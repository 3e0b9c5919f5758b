/** The sugar scale of hand refractometers, used here only as a way to write a refractive index. */

/** Coefficients a0…a5 of the index by °Brix. */
const INDEX_BY_BRIX = [1.332989, 1.42668e-3, 5.54083e-6, 1.00574e-8, 1.58616e-10, -1.07424e-12] as const;

const HIGHEST_BRIX = 85;

/**
 * Refractive index n_D of a reading on the ICUMSA sugar scale at 20 °C.
 *
 *     n = a0 + a1 B + a2 B² + a3 B³ + a4 B⁴ + a5 B⁵
 *
 * Valid for B of 0–85 °Brix. Our own fit through the points at every 5 °Brix of the ICUMSA table of 1974, which were
 * recalled from memory; it meets them within 4e-6. Up to 75 °Brix it meets the older four-decimal table of sugar
 * solutions in the CRC Handbook within 1e-4; above, that table reads up to 3e-4 less. A bath reads 25–40 °Brix.
 * Example: 30 °Brix gives 1.38115; the CRC Handbook prints 1.3812.
 *
 * @param brix B, the reading in °Brix (grams of sucrose in 100 g of solution)
 * @see ICUMSA1974, CRCSUCROSE
 */
export function indexFromBrix(brix: number): number {
  return INDEX_BY_BRIX.reduceRight((sum, coefficient) => sum * brix + coefficient, 0);
}

/**
 * Reading on the ICUMSA sugar scale at 20 °C of a refractive index, in °Brix; the inverse of {@link indexFromBrix}.
 * Example: dry isopropanol at 20 °C, 1.3772, reads 27.8 °Brix.
 *
 * @param index n_D, 1.3330–1.5040
 * @returns the nearest end of the scale for an index beyond it
 */
export function brixFromIndex(index: number): number {
  let low = 0;
  let high = HIGHEST_BRIX;
  for (let step = 0; step < 48; step += 1) {
    const middle = (low + high) / 2;
    if (indexFromBrix(middle) < index) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
