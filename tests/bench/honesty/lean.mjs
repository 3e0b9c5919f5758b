// The washes' own scatter in draws: mostly left to chance, with a few directions that the proposals can steer. A
// weighed wash is a direction of its own; the washes between two readings share one, in which each leans by the
// resin it carries. A direction of independent standard normals is itself standard normal, so the prior stays exact.

/** @typedef {import('./steps.mjs').Step} Step @typedef {{washes: number[], lean: number[]}} Direction lean: unit vector */

/** Readings sharp enough to tell a stretch of washes from its expectation. */
const SHARP = ['residue', 'resin_wt_pct', 'weight_g', 'density_g_ml', 'sg', 'brix', 'refractive_index'];

/** @param {{wash: number, carry: number}[]} stretch @returns {Direction} */
function directionOf(stretch) {
  const length = Math.hypot(...stretch.map(({ carry }) => carry));
  return { washes: stretch.map(({ wash }) => wash), lean: stretch.map(({ carry }) => carry / length) };
}

/** @param {readonly Step[]} steps in order @returns {Direction[]} */
export function directionsOf(steps) {
  const weighed = new Set(steps.filter(({ kind }) => kind === 'weighed').map(({ event }) => event.wash));
  /** @type {Direction[]} */
  const directions = [];
  /** @type {{wash: number, carry: number}[]} */
  let stretch = [];
  let wash = 0;
  for (const { kind, event, carry } of steps) {
    const isSharp = kind === 'reading' && SHARP.some((key) => event[key] !== undefined);
    if (isSharp && stretch.length > 0) {
      directions.push(directionOf(stretch));
      stretch = [];
    }
    if (kind !== 'wash') continue;
    if (weighed.has(event.id)) directions.push({ washes: [wash], lean: [1] });
    else stretch.push({ wash, carry });
    wash++;
  }
  return directions;
}

/**
 * Standard normals of each wash, with given values along the directions.
 * @param {readonly Direction[]} directions
 * @param {readonly Float64Array[]} along
 * @param {() => Float64Array} fresh independent standard normals
 * @returns {(wash: number) => Float64Array}
 */
export function leaning(directions, along, fresh) {
  /** @type {Map<number, Float64Array>} */
  const ready = new Map();
  const prepare = (/** @type {Direction} */ { washes, lean }, /** @type {Float64Array} */ wanted) => {
    const free = washes.map(fresh);
    const missing = wanted.map((one, j) => {
      let sum = one;
      for (let i = 0; i < free.length; i++) sum -= lean[i] * free[i][j];
      return sum;
    });
    washes.forEach((wash, i) => {
      ready.set(
        wash,
        free[i].map((z, j) => z + lean[i] * missing[j]),
      );
    });
  };
  return (wash) => {
    const which = directions.findIndex(({ washes }) => washes.includes(wash));
    if (which < 0) return fresh();
    if (!ready.has(wash)) prepare(directions[which], along[which]);
    const out = ready.get(wash) ?? fresh();
    ready.delete(wash);
    return out;
  };
}
