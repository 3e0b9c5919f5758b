// Weighted draws: normalised weights, effective size, quantiles, density.

/** Weights that sum to 1 from their logs. @param {Float64Array} logs */
export function normalised(logs) {
  let top = -Infinity;
  for (const one of logs) if (one > top) top = one;
  const weights = logs.map((one) => Math.exp(one - top));
  let sum = 0;
  for (const one of weights) sum += one;
  return weights.map((one) => one / sum);
}

/** Kish's effective number of draws. @param {Float64Array} weights that sum to 1 */
export function effective(weights) {
  let squares = 0;
  for (const one of weights) squares += one * one;
  return 1 / squares;
}

/**
 * Quantiles, linear between the middles of the weights.
 * @param {Float64Array} values
 * @param {Float64Array} weights that sum to 1
 * @param {readonly number[]} levels rising
 */
export function quantiles(values, weights, levels) {
  const order = Uint32Array.from(values, (_, j) => j).sort((a, b) => values[a] - values[b]);
  const out = [];
  let below = 0;
  let lastMiddle = 0;
  let lastValue = values[order[0]];
  for (const j of order) {
    const middle = below + weights[j] / 2;
    while (out.length < levels.length && levels[out.length] <= middle) {
      /** @type {number} */
      const share = middle > lastMiddle ? (levels[out.length] - lastMiddle) / (middle - lastMiddle) : 1;
      out.push(lastValue + share * (values[j] - lastValue));
    }
    below += weights[j];
    lastMiddle = middle;
    lastValue = values[j];
  }
  while (out.length < levels.length) out.push(lastValue);
  return out;
}

/** Log density at a point by normal kernels, bandwidth by Silverman on the effective number. @param {Float64Array} values @param {Float64Array} weights @param {number} point */
export function logDensityAt(values, weights, point) {
  let mean = 0;
  let squares = 0;
  for (let j = 0; j < values.length; j++) {
    mean += weights[j] * values[j];
    squares += weights[j] * values[j] * values[j];
  }
  const [q25, q75] = quantiles(values, weights, [0.25, 0.75]);
  const width = Math.min(Math.sqrt(Math.max(squares - mean * mean, 0)), (q75 - q25) / 1.349);
  const band = Math.max(0.9 * width * effective(weights) ** -0.2, 1e-9);
  let sum = 0;
  for (let j = 0; j < values.length; j++) {
    const z = (values[j] - point) / band;
    sum += weights[j] * Math.exp(-0.5 * z * z);
  }
  return Math.log(sum / (band * Math.sqrt(2 * Math.PI)) + 1e-300);
}
