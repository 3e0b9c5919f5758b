// Proposals of importance sampling: part fitted to weighted draws and widened, part prior (independent standard
// normals). The prior's part bounds the weights.
//
// A sharp reading leaves a thin curved ridge: a bath's weight fixes what drag-out and evaporation took together. So most
// dimensions are fitted by one normal, and a few close the sum: each is normal around a quadratic in those before it.

export const PRIOR_SHARE = 0.2;
const WIDER = 1.5;
const RIDGE = 1e-4;
const FARTHEST = 5;
const LOG_ROOT_2_PI = 0.5 * Math.log(2 * Math.PI);

/**
 * @typedef {Float64Array[]} Columns one array a dimension, one entry a draw
 * @typedef {{dimension: number, linear: number[], square: number[]}} Close the dimension, and those before it that enter as such and in products
 * @typedef {{open: number[], closes: Close[]}} Shape
 * @typedef {{close: Close, coefficients: Float64Array, sd: number}} Closing
 * @typedef {{open: number[], mean: Float64Array, root: Float64Array[], closings: Closing[]}} Proposal root: lower triangle whose square is the covariance
 */

/**
 * Which dimensions close which sums.
 * @param {number} dimensions
 * @param {number[]} closing in order
 * @param {number} factors the first so many dimensions enter in products
 * @returns {Shape}
 */
export function shapeOf(dimensions, closing, factors) {
  const open = Array.from({ length: dimensions }, (_, i) => i).filter((i) => !closing.includes(i));
  const closes = closing.map((dimension, k) => {
    const linear = [...open, ...closing.slice(0, k)];
    return { dimension, linear, square: linear.filter((i) => i < factors) };
  });
  return { open, closes };
}

/** Lower triangular root of a positive definite matrix, given its lower triangle. @param {Float64Array[]} matrix @returns {Float64Array[]} */
function cholesky(matrix) {
  const root = matrix.map((row) => new Float64Array(row.length));
  for (let i = 0; i < matrix.length; i++)
    for (let k = 0; k <= i; k++) {
      let sum = matrix[i][k];
      for (let l = 0; l < k; l++) sum -= root[i][l] * root[k][l];
      root[i][k] = i === k ? Math.sqrt(Math.max(sum, 1e-12)) : sum / root[k][k];
    }
  return root;
}

/** Solves matrix · x = right, given the matrix's root. @param {Float64Array[]} root @param {Float64Array} right */
function solved(root, right) {
  const x = right.slice();
  for (let i = 0; i < x.length; i++) {
    for (let k = 0; k < i; k++) x[i] -= root[i][k] * x[k];
    x[i] /= root[i][i];
  }
  for (let i = x.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < x.length; k++) x[i] -= root[k][i] * x[k];
    x[i] /= root[i][i];
  }
  return x;
}

/** What a closing dimension may depend on, for one draw. @param {Columns} columns @param {number} j @param {Close} close @param {Float64Array} out */
function features(columns, j, { linear, square }, out) {
  let n = 0;
  out[n++] = 1;
  for (const i of linear) out[n++] = columns[i][j];
  for (let a = 0; a < square.length; a++)
    for (let b = 0; b <= a; b++) out[n++] = columns[square[a]][j] * columns[square[b]][j];
}

/** @param {Close} close */
function featureCount({ linear, square }) {
  return 1 + linear.length + (square.length * (square.length + 1)) / 2;
}

/** @param {Float64Array} one @param {Float64Array} other */
function dot(one, other) {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i] * other[i];
  return sum;
}

/** Weighted least squares with a small penalty. @param {Columns} columns @param {Float64Array} weights @param {Close} close @returns {Closing} */
function fitClosing(columns, weights, close) {
  const count = featureCount(close);
  const matrix = Array.from({ length: count }, () => new Float64Array(count));
  const right = new Float64Array(count);
  const row = new Float64Array(count);
  const target = columns[close.dimension];
  weights.forEach((weight, j) => {
    features(columns, j, close, row);
    for (let i = 0; i < count; i++) {
      const scaled = weight * row[i];
      right[i] += scaled * target[j];
      for (let k = 0; k <= i; k++) matrix[i][k] += scaled * row[k];
    }
  });
  for (let i = 0; i < count; i++) matrix[i][i] += RIDGE;
  const coefficients = solved(cholesky(matrix), right);
  let squares = 0;
  let weightSquares = 0;
  weights.forEach((weight, j) => {
    features(columns, j, close, row);
    squares += weight * (target[j] - dot(coefficients, row)) ** 2;
    weightSquares += weight * weight;
  });
  const freedom = Math.max(1 - count * weightSquares, 0.2);
  return { close, coefficients, sd: Math.sqrt((WIDER * squares) / freedom + 1e-8) };
}

/** @param {Columns} columns of the open dimensions @param {Float64Array} weights */
function fitNormal(columns, weights) {
  const mean = Float64Array.from(columns, (column) => dot(column, weights));
  const centred = columns.map((column, i) => column.map((x) => x - mean[i]));
  const matrix = centred.map((one, i) => {
    const scaled = one.map((x, j) => x * weights[j]);
    return Float64Array.from(centred, (other, k) => (k <= i ? WIDER * dot(scaled, other) : 0));
  });
  for (let i = 0; i < matrix.length; i++) matrix[i][i] += 1e-6;
  return { mean, root: cholesky(matrix) };
}

/** A proposal fitted to weighted draws. @param {Columns} columns @param {Float64Array} weights that sum to 1 @param {Shape} shape @returns {Proposal} */
export function fitted(columns, weights, { open, closes }) {
  const top = weights.reduce((most, one) => Math.max(most, one), 0);
  // Draws of next to no weight would only cost time.
  const kept = Uint32Array.from(weights.keys()).filter((j) => weights[j] > 1e-5 * top);
  const total = kept.reduce((sum, j) => sum + weights[j], 0);
  const few = columns.map((column) => Float64Array.from(kept, (j) => column[j]));
  const share = Float64Array.from(kept, (j) => weights[j] / total);
  const normal = fitNormal(
    open.map((i) => few[i]),
    share,
  );
  return { open, ...normal, closings: closes.map((close) => fitClosing(few, share, close)) };
}

/** Where a closing dimension is expected. @param {Closing} closing @param {Float64Array} row */
function centreOf({ coefficients }, row) {
  return Math.max(Math.min(dot(coefficients, row), FARTHEST), -FARTHEST);
}

/** Turns independent standard normals into draws of the mixture, in place; the first share stays prior. @param {Columns} columns @param {Proposal} proposal */
export function spread(columns, { open, mean, root, closings }) {
  const size = columns[0].length;
  const z = new Float64Array(open.length);
  const rows = closings.map(({ close }) => new Float64Array(featureCount(close)));
  for (let j = Math.round(PRIOR_SHARE * size); j < size; j++) {
    for (let i = 0; i < z.length; i++) z[i] = columns[open[i]][j];
    for (let i = 0; i < z.length; i++) {
      let sum = mean[i];
      for (let k = 0; k <= i; k++) sum += root[i][k] * z[k];
      columns[open[i]][j] = sum;
    }
    closings.forEach((closing, k) => {
      features(columns, j, closing.close, rows[k]);
      const column = columns[closing.close.dimension];
      column[j] = centreOf(closing, rows[k]) + closing.sd * column[j];
    });
  }
}

/** Log density of each draw under independent standard normals. @param {Columns} columns */
export function logPrior(columns) {
  return columns[0].map((_, j) => {
    let sum = 0;
    for (const column of columns) sum -= 0.5 * column[j] * column[j] + LOG_ROOT_2_PI;
    return sum;
  });
}

/** Log density of each draw under the fitted part of a proposal. @param {Columns} columns @param {Proposal} proposal */
export function logFitted(columns, { open, mean, root, closings }) {
  const size = mean.length;
  const z = new Float64Array(size);
  const rows = closings.map(({ close }) => new Float64Array(featureCount(close)));
  const base =
    root.reduce((sum, row, i) => sum - Math.log(row[i]) - LOG_ROOT_2_PI, 0) -
    closings.reduce((sum, { sd }) => sum + Math.log(sd) + LOG_ROOT_2_PI, 0);
  return columns[0].map((_, j) => {
    let sum = base;
    for (let i = 0; i < size; i++) {
      let left = columns[open[i]][j] - mean[i];
      for (let k = 0; k < i; k++) left -= root[i][k] * z[k];
      z[i] = left / root[i][i];
      sum -= 0.5 * z[i] * z[i];
    }
    for (let k = 0; k < closings.length; k++) {
      const { close, sd } = closings[k];
      features(columns, j, close, rows[k]);
      const off = (columns[close.dimension][j] - centreOf(closings[k], rows[k])) / sd;
      sum -= 0.5 * off * off;
    }
    return sum;
  });
}
