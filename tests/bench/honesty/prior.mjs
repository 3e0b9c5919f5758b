// What is not known before any reading: ln of each factor is normal with mean 0. Draws are kept as standard normals.

/** @typedef {import('./steps.mjs').Plan} Plan @typedef {import('./model.mjs').Draws} Draws */

const PRIOR_SD = { carry: 0.45, drag: 0.5, dissolution: 0.35, evaporation: 0.7, moisture: 0.7 };
const SCATTER_SD = 0.25;

/** Factors of a shop: three of its own, two for each tub. @param {Plan} plan */
export function factorCount(plan) {
  return 3 + 2 * plan.tubs.length;
}

/**
 * The factors of draws given as standard normals, one array a factor, in the order carry, drag, dissolution, then
 * evaporation and moisture of each tub.
 * @param {Plan} plan
 * @param {readonly Float64Array[]} normals
 * @param {(wash: number) => Float64Array} scatter standard normals of one wash's own scatter
 * @returns {Draws}
 */
export function drawsFrom(plan, normals, scatter) {
  const factor = (/** @type {number} */ which, /** @type {number} */ sd, /** @type {number} */ median) =>
    normals[which].map((z) => median * Math.exp(sd * z));
  const [carry, drag, dissolution] = plan.factors;
  return {
    size: normals[0].length,
    carry: factor(0, PRIOR_SD.carry, carry),
    drag: factor(1, PRIOR_SD.drag, drag),
    dissolution: factor(2, PRIOR_SD.dissolution, dissolution),
    evaporation: plan.tubs.map((tub, k) => factor(3 + 2 * k, PRIOR_SD.evaporation, tub.evaporation)),
    moisture: plan.tubs.map((tub, k) => factor(4 + 2 * k, PRIOR_SD.moisture, tub.moisture)),
    scatter: (wash) => scatter(wash).map((z) => Math.exp(SCATTER_SD * z)),
  };
}

/** @param {Plan} plan @param {number} size @param {import('./random.mjs').Random} random @returns {Draws} */
export function priorDraws(plan, size, random) {
  const fresh = () => random.normals(new Float64Array(size));
  return drawsFrom(plan, Array.from({ length: factorCount(plan) }, fresh), fresh);
}
