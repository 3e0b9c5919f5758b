/** Viscosity of fresh solvent, of resin and of a bath. Source ids: data/SOURCES.md. */

/** Viscosity relative to dry isopropanol, by mass fraction of isopropanol; between the points linear. */
const RELATIVE = [
  [0.4, 1.48],
  [0.5877, 1.491],
  [0.6891, 1.4126],
  [0.8855, 1.0986],
  [0.93, 1.04],
  [1, 1],
] as const;

/**
 * Viscosity of isopropanol with water, in mPa·s.
 *
 *     µ = 2.40 exp(−0.0285 (T − 20)) h(w),   h by straight lines through RELATIVE
 *
 * Valid for w of 0.40–1 at 15–40 °C. Deviation 3 % for dry isopropanol; for mixtures up to 5 % at 20–25 °C, 7 % at 30 and
 * 13 % at 40 °C, since their viscosity falls faster with temperature.
 * Example: dry at 20 °C gives 2.40 mPa·s; 58.77 wt% at 25 °C gives 3.10, GONZALEZ2008 measured 3.087.
 *
 * @param ipaFraction w, mass of isopropanol/mass of isopropanol and water
 * @param tempC temperature T in °C
 * @see GONZALEZ2008, PANG2007P, ALMASI2014, ILOUKHANI2009
 */
export function solventViscosity(ipaFraction: number, tempC: number): number {
  let next = 1;
  while (next < RELATIVE.length - 1 && ipaFraction > RELATIVE[next]![0]) next += 1;
  const [w0, h0] = RELATIVE[next - 1]!;
  const [w1, h1] = RELATIVE[next]!;
  if (tempC !== dry.tempC) dry = dryAt(tempC);
  return dry.viscosity * (h0 + ((h1 - h0) * (ipaFraction - w0)) / (w1 - w0));
}

function dryAt(tempC: number): { tempC: number; viscosity: number } {
  return { tempC, viscosity: 2.4 * Math.exp(-0.0285 * (tempC - 20)) };
}

/** Dry isopropanol at the temperature asked for last, which for a replay is that of the room. */
let dry = dryAt(20);

/**
 * Viscosity of uncured resin at a temperature, in mPa·s.
 *
 *     µ = µ_25 exp(−0.08 (T − 25))
 *
 * Eight percent a degree, the middle of 6–11 % found for two resins near room temperature (common practice, no
 * source); 15–40 °C.
 * Example: 400 mPa·s at 25 °C is 597 mPa·s at 20 °C.
 *
 * @param viscosity25 µ_25, viscosity at 25 °C in mPa·s, as the data sheet gives it
 * @param tempC temperature T in °C
 */
export function resinViscosity(viscosity25: number, tempC: number): number {
  return viscosity25 * Math.exp(-0.08 * (tempC - 25));
}

/**
 * Viscosity of a bath, in mPa·s.
 *
 *     ln µ = w_r ln µ_r + (1 − w_r) ln µ_s,   that is µ = µ_s (µ_r/µ_s)^w_r
 *
 * The usual mixing rule for liquids that mix ideally, here by mass; meant for w_r up to 0.3, where no measurement of
 * resin in isopropanol is known to check it.
 * Example: 10 wt% of a resin of 400 mPa·s in a solvent of 2.4 mPa·s gives 4.0 mPa·s.
 *
 * @param bath.resinFraction w_r, mass of resin/mass of the bath
 * @param bath.resinViscosity µ_r at the bath's temperature in mPa·s
 * @param bath.solventViscosity µ_s at the bath's temperature in mPa·s
 */
export function bathViscosity(bath: {
  resinFraction: number;
  resinViscosity: number;
  solventViscosity: number;
}): number {
  const { resinFraction, resinViscosity: resin, solventViscosity: solvent } = bath;
  return solvent * (resin / solvent) ** resinFraction;
}
