// Properties of isopropanol, water and resin by the equations of src/bath/README.md, written once more from the
// equations alone so that the simulator shares nothing with the program under test. g, mL, °C, mPa·s, mass fractions.

const EXCESS = [-0.135308, 0.0223535, -0.016736, -0.0372521];
const EXCESS_PER_10_C = 0.00504722;
const RESIN_EXPANSION = 7e-4;

/** Density of water in g/mL. @param {number} tempC */
export function waterDensity(tempC) {
  const square = (tempC - 3.983035) ** 2;
  return 0.99997495 * (1 - (square * (tempC + 301.797)) / (522528.9 * (tempC + 69.34881)));
}

/** Density of dry isopropanol in g/mL. @param {number} tempC */
function ipaDensity(tempC) {
  const above20 = tempC - 20;
  return 0.785157 - 8.29933e-4 * above20 - 1.76229e-6 * above20 * above20;
}

/**
 * What the solvent's volume needs that depends on the temperature alone.
 * @typedef {{ipa: number, water: number, excess: number}} SolventAt
 * @param {number} tempC
 * @returns {SolventAt}
 */
export function solventAt(tempC) {
  return {
    ipa: 1 / ipaDensity(tempC),
    water: 1 / waterDensity(tempC),
    excess: EXCESS[0] + (EXCESS_PER_10_C * (tempC - 25)) / 10,
  };
}

/**
 * mL of one gram of solvent of IPA mass fraction w; held at 40 wt% below it.
 * @param {SolventAt} at
 * @param {number} fraction
 */
export function solventVolume(at, fraction) {
  const w = Math.max(fraction, 0.4);
  const z = 2 * w - 1;
  const excess = at.excess + z * (EXCESS[1] + z * (EXCESS[2] + z * EXCESS[3]));
  return w * at.ipa + (1 - w) * (at.water + w * excess);
}

/** @param {number} density20 g/mL at 20 °C @param {number} tempC */
export function resinDensity(density20, tempC) {
  return density20 * (1 - RESIN_EXPANSION * (tempC - 20));
}

/** @param {number} viscosity25 mPa·s at 25 °C @param {number} tempC */
export function resinViscosity(viscosity25, tempC) {
  return viscosity25 * Math.exp(-0.08 * (tempC - 25));
}

/**
 * A piecewise linear function through points of rising x, level outside them.
 * @param {readonly (readonly [number, number])[]} points
 * @param {number} x
 */
function through(points, x) {
  for (let i = 1; i < points.length; i++) {
    const [x0, y0] = points[i - 1];
    const [x1, y1] = points[i];
    if (x <= x1) return y0 + ((y1 - y0) * (Math.max(x, x0) - x0)) / (x1 - x0);
  }
  return points[points.length - 1][1];
}

const THICKENING = /** @type {const} */ ([
  [0.4, 1.48],
  [0.5877, 1.491],
  [0.6891, 1.4126],
  [0.8855, 1.0986],
  [0.93, 1.04],
  [1, 1],
]);

/** ln of the solvent's viscosity over that of dry IPA at the same temperature. @param {number} fraction */
export function logThickening(fraction) {
  // Most baths lie in the last two pieces.
  if (fraction >= 0.93) return Math.log(1.04 - (0.04 / 0.07) * (fraction - 0.93));
  if (fraction >= 0.8855) return Math.log(1.0986 - (0.0586 / 0.0445) * (fraction - 0.8855));
  return Math.log(through(THICKENING, fraction));
}

/** Viscosity of dry IPA in mPa·s. @param {number} tempC */
export function ipaViscosity(tempC) {
  return 2.4 * Math.exp(-0.0285 * (tempC - 20));
}

const INDEX20 = /** @type {const} */ ([
  [0.3999, 1.3638],
  [0.4936, 1.3679],
  [0.6052, 1.3718],
  [0.6924, 1.3742],
  [0.87, 1.377],
  [1, 1.3772],
]);

/** @param {number} fraction @param {number} tempC */
function solventIndex(fraction, tempC) {
  const w = Math.max(fraction, 0.4);
  return through(INDEX20, w) - (3.2e-4 + 2e-4 * (w - 0.4)) * (tempC - 20);
}

/** @param {number} index */
function molar(index) {
  return (index * index - 1) / (index * index + 2);
}

/**
 * @typedef {{resin: number, ipa: number, water: number}} Masses grams
 * @typedef {{density: number, index: number}} Resin density at 20 °C, refractive index at 20 °C
 */

/** Density of a bath in g/mL at a temperature. @param {Masses} held @param {Resin} resin @param {number} tempC */
export function bathDensity(held, resin, tempC) {
  const solvent = held.ipa + held.water;
  const volume = solvent * solventVolume(solventAt(tempC), held.ipa / solvent);
  return (held.resin + solvent) / (volume + held.resin / resinDensity(resin.density, tempC));
}

/** Refractive index of a bath at a temperature. @param {Masses} held @param {Resin} resin @param {number} tempC */
export function bathIndex(held, resin, tempC) {
  const solvent = held.ipa + held.water;
  const fraction = held.ipa / solvent;
  const volume = solvent * solventVolume(solventAt(tempC), fraction);
  const resinVolume = held.resin / resinDensity(resin.density, tempC);
  const share = resinVolume / (volume + resinVolume);
  const sum =
    share * molar(resin.index - 4e-4 * (tempC - 20)) + (1 - share) * molar(solventIndex(fraction, tempC));
  return Math.sqrt((1 + 2 * sum) / (1 - sum));
}

/** Volume of a bath in mL at 20 °C. @param {Masses} held @param {Resin} resin */
export function bathVolume(held, resin) {
  const solvent = held.ipa + held.water;
  if (solvent === 0) return held.resin / resin.density;
  return held.resin / resin.density + solvent * solventVolume(solventAt(20), held.ipa / solvent);
}

/** IPA mass fraction of a strength in vol% at 20 °C. @param {number} volPct */
export function fractionOfVolPct(volPct) {
  const at = solventAt(20);
  let low = 0.4;
  let high = 1;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    const share = (middle * at.ipa) / solventVolume(at, middle);
    if (share < volPct / 100) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

// ICUMSA 1974 at 20 °C and 589 nm; coefficients from memory, checked against n = 1.38115 at 30 °Brix.
const BRIX = [1.332989, 1.42668e-3, 5.54083e-6, 1.00574e-8, 1.58616e-10, -1.07424e-12];

/** Refractive index at a degree Brix. @param {number} brix */
export function indexOfBrix(brix) {
  return BRIX.reduceRight((sum, coefficient) => sum * brix + coefficient, 0);
}

/** Degree Brix of a refractive index. @param {number} index */
export function brixOfIndex(index) {
  let low = 0;
  let high = 80;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (indexOfBrix(middle) < index) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
