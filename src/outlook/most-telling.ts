/**
 * Which measurement would narrow a figure most, before it is made.
 */
import type { Figure } from '../belief/band.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import { dot } from '../belief/sight.ts';
import type { Measurement } from './measurements.ts';

export interface Telling {
  measurement: Measurement;
  /** Width of the figure's band after it, as a share of that now; 1 when it says nothing. */
  bandLeft: number;
}

/**
 * The measurements in the order of what they would tell of a figure.
 *
 * For a normal, how much a reading narrows does not depend on what it will show: with the slopes a of the figure and g of the
 * reading along the unknowns,
 *
 *     var after = |a|² + s² − (a C g)²/(g C g + r²),   C ← C − C g gᵀ C/(g C g + r²) for the next number of the same measurement
 *
 * C is the unit matrix at first, s what the figure answers to besides the factors, r² the variance of the reading.
 *
 * @see KALMAN1960
 */
export function mostTelling(
  ensemble: Ensemble,
  { values, scatterSd = 0 }: Figure,
  measurements: readonly Measurement[],
): Telling[] {
  const positive = values.every((value) => value > 0);
  const slopes = ensemble.slopesOf(ensemble.bends(positive ? values.map(Math.log) : values));
  const rest = positive ? scatterSd ** 2 : 0;
  const now = dot(slopes, slopes) + rest;
  const told = measurements.map((measurement): Telling => {
    const after = remaining(slopes, measurement) + rest;
    return { measurement, bandLeft: now > 0 ? Math.sqrt(Math.max(0, after) / now) : 1 };
  });
  return told.sort((one, other) => one.bandLeft - other.bandLeft);
}

/** Variance of the figure from the factors after the numbers of a measurement. */
function remaining(slopes: Float64Array, { looks }: Measurement): number {
  const size = slopes.length;
  const covariance = Array.from({ length: size }, (_, row) =>
    Float64Array.from({ length: size }, (__, column) => (row === column ? 1 : 0)),
  );
  for (const { slopes: seen, variance } of looks) {
    const carried = covariance.map((row) => dot(row, seen));
    const total = dot(carried, seen) + variance;
    covariance.forEach((row, one) => {
      for (let other = 0; other < size; other += 1) row[other]! -= (carried[one]! * carried[other]!) / total;
    });
  }
  return covariance.reduce((sum, row, one) => sum + slopes[one]! * dot(row, slopes), 0);
}
