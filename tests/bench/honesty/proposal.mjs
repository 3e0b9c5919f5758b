// Proposals of importance sampling: part normal, fitted to weighted draws and widened, part prior (independent
// standard normals). The prior's part bounds the weights.

export const PRIOR_SHARE = 0.2;
const WIDER = 1.5;
const LOG_ROOT_2_PI = 0.5 * Math.log(2 * Math.PI);

/**
 * @typedef {Float64Array[]} Columns one array a dimension, one entry a draw
 * @typedef {{mean: Float64Array, root: Float64Array[]}} Normal root: lower triangle whose square is the covariance
 */

/** Lower triangular root of a positive definite matrix. @param {Float64Array[]} matrix @returns {Float64Array[]} */
export function cholesky(matrix) {
  const root = matrix.map((row) => new Float64Array(row.length));
  for (let i = 0; i < matrix.length; i++)
    for (let k = 0; k <= i; k++) {
      let sum = matrix[i][k];
      for (let l = 0; l < k; l++) sum -= root[i][l] * root[k][l];
      root[i][k] = i === k ? Math.sqrt(Math.max(sum, 1e-12)) : sum / root[k][k];
    }
  return root;
}

/** Weighted mean and widened covariance. @param {Columns} columns @param {Float64Array} weights that sum to 1 @returns {Normal} */
export function fitNormal(columns, weights) {
  const mean = Float64Array.from(columns, (column) => dot(column, weights));
  const centred = columns.map((column, i) => column.map((x) => x - mean[i]));
  const matrix = centred.map((one, i) => {
    const scaled = one.map((x, j) => x * weights[j]);
    return Float64Array.from(centred, (other, k) => WIDER * (k <= i ? dot(scaled, other) : 0));
  });
  for (let i = 0; i < matrix.length; i++) {
    for (let k = 0; k < i; k++) matrix[k][i] = matrix[i][k];
    matrix[i][i] += 1e-6;
  }
  return { mean, root: cholesky(matrix) };
}

/** @param {ArrayLike<number>} one @param {ArrayLike<number>} other */
function dot(one, other) {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i] * other[i];
  return sum;
}

/** Turns independent standard normals into draws of the mixture, in place; the first share stays prior. @param {Columns} columns @param {Normal} normal */
export function spread(columns, { mean, root }) {
  const size = columns[0].length;
  const z = new Float64Array(mean.length);
  for (let j = Math.round(PRIOR_SHARE * size); j < size; j++) {
    for (let i = 0; i < z.length; i++) z[i] = columns[i][j];
    for (let i = 0; i < z.length; i++) {
      let sum = mean[i];
      for (let k = 0; k <= i; k++) sum += root[i][k] * z[k];
      columns[i][j] = sum;
    }
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

/** Log density of each draw under a normal. @param {Columns} columns @param {Normal} normal */
export function logNormal(columns, { mean, root }) {
  const size = mean.length;
  const z = new Float64Array(size);
  const base = root.reduce((sum, row, i) => sum - Math.log(row[i]) - LOG_ROOT_2_PI, 0);
  return columns[0].map((_, j) => {
    let sum = base;
    for (let i = 0; i < size; i++) {
      let left = columns[i][j] - mean[i];
      for (let k = 0; k < i; k++) left -= root[i][k] * z[k];
      z[i] = left / root[i][i];
      sum -= 0.5 * z[i] * z[i];
    }
    return sum;
  });
}
