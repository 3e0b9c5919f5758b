/**
 * Bayes' rule for one number read with normal error, README.md 4.
 */
import { along, bendThrough, REACH } from './bend.ts';
import { Z95 } from './quantile.ts';

/** Something that can be read: what it would show for any values of the unknowns. */
export interface Sight {
  /** How many unknowns, each standard normal before the reading. */
  unknowns: number;
  /** What would be read, with the unknowns at `u`. */
  see(u: Float64Array): number;
  /** Its slopes at `u`. */
  slopes(u: Float64Array): Float64Array;
}

/** What a reading does to the unknowns: all of it happens along one direction. */
export interface Learned {
  /** Unit vector; zeros when the reading says nothing. */
  direction: Float64Array;
  /** Mean, standard deviation and skewness along the direction, 0, 1 and 0 before. */
  mean: number;
  sd: number;
  skew: number;
  /** Distance of the reading from what was expected, in standard deviations of both together. */
  misfit: number;
  /** What was expected, and its 5 and 95 % points without the error of the reading. */
  expected: { p05: number; p50: number; p95: number };
  /** Standard deviation that was used; larger than the given one when the reading lay too far off. */
  usedSd: number;
  /** Slope of what is read along the direction, at the mean. */
  steepness: number;
}

/** Beyond this many standard deviations a reading counts for less, and is flagged. */
export const OUTLIER = 3;

const MOST_TURNS = 6;
const STILL = 1e-4;
const LEAST_VARIANCE = 1e-8;
/** Beyond this three points no longer describe the posterior. */
const MOST_SKEW = 1.2;

/**
 * Takes in a reading.
 *
 *     ln posterior = −|u|²/2 − (y − h(u))²/(2 r²)
 *
 * h changes along one direction only, that of its slope g, so the unknowns across it stay as they were. Along it, u = t g, the
 * posterior is a curve in one variable: its top is found by Newton steps, its mean, variance and skewness by a seven-point
 * Gauss–Hermite rule laid over the top. The direction is the slope at the mean; both are found in turn. At the end u = t g
 * is where the gradient of the full posterior is zero, as in an iterated Kalman filter, and for a straight h it is the
 * Kalman filter to the last digit.
 *
 * A reading m > 3 standard deviations off gets the error that brings it to 9/m: at three it counts in full, and the farther off it
 * is, the less it says.
 *
 * @param value y
 * @param sd r, of everything but the unknowns, above 0
 */
export function takeIn(sight: Sight, value: number, sd: number): Learned {
  const start = new Float64Array(sight.unknowns);
  const middle = sight.see(start);
  const first = unit(sight.slopes(start));
  if (!first) return nothing(sight, value, sd, middle);
  const line = lineThrough(sight, first, middle);
  const ends = [line(-Z95), middle, line(Z95)];
  const expected = { p05: Math.min(...ends), p50: middle, p95: Math.max(...ends) };
  let found = settle(sight, { direction: first, middle, value, sd });
  const misfit = Math.sqrt(2 * cost(found.line, value, sd, found.top));
  let usedSd = sd;
  if (misfit > OUTLIER) {
    usedSd = sdForOutlier(found.line, value, sd, misfit);
    found = settle(sight, { direction: found.direction, middle, value, sd: usedSd });
  }
  const { direction, mean, variance, skew } = found;
  return {
    direction,
    mean,
    sd: Math.sqrt(variance),
    skew,
    misfit,
    expected,
    usedSd,
    steepness: steepness(found.line, mean),
  };
}

/** Direction, top and moments, each from the others until they stand still. */
function settle(
  sight: Sight,
  given: { direction: Float64Array; middle: number; value: number; sd: number },
): Moments & { direction: Float64Array; line: Line; top: number } {
  const { middle, value, sd } = given;
  let { direction } = given;
  let at = new Float64Array(sight.unknowns);
  for (let turn = 0; ; turn += 1) {
    const line = lineThrough(sight, direction, middle);
    const top = topOf(line, value, sd);
    const moments = momentsOf(line, value, sd, top);
    const next = scaled(direction, moments.mean);
    const turned = turn < MOST_TURNS && distance(at, next) > STILL ? unit(sight.slopes(next)) : undefined;
    if (!turned) return { direction, line, top, ...moments };
    at = next;
    direction = turned;
  }
}

/** h along a direction, as a function of the distance t. */
type Line = (t: number) => number;

/** Through what would be read at −√3, 0 and √3. */
function lineThrough(sight: Sight, direction: Float64Array, middle: number): Line {
  const below = middle - sight.see(scaled(direction, -REACH));
  const above = sight.see(scaled(direction, REACH)) - middle;
  const bend = bendThrough(below, above);
  return (t) => middle + along(bend, t);
}

function cost(line: Line, value: number, sd: number, t: number): number {
  const gap = (value - line(t)) / sd;
  return (t * t + gap * gap) / 2;
}

/** The t of least cost: damped Gauss–Newton steps from 0. */
function topOf(line: Line, value: number, sd: number): number {
  let t = 0;
  let best = cost(line, value, sd, 0);
  for (let step = 0; step < 30; step += 1) {
    const steep = steepness(line, t) / sd;
    const gap = (value - line(t)) / sd;
    let stride = (steep * gap - t) / (1 + steep * steep);
    let tried = cost(line, value, sd, t + stride);
    for (let halving = 0; tried > best && halving < 30; halving += 1) {
      stride /= 2;
      tried = cost(line, value, sd, t + stride);
    }
    if (!(tried <= best)) break;
    t += stride;
    best = tried;
    if (Math.abs(stride) < 1e-9) break;
  }
  return t;
}

function steepness(line: Line, t: number): number {
  return (line(t + 1e-4) - line(t - 1e-4)) / 2e-4;
}

/** Nodes and weights of the seven-point Gauss–Hermite rule for e^(−x²) (ABRAMOWITZSTEGUN 25.10). */
const NODES = [0, 0.816287882858965, 1.673551628767471, 2.651961356835233] as const;
const WEIGHTS = [0.8102646175568073, 0.4256072526101278, 0.05451558281912703, 0.0009717812450995191] as const;

interface Moments {
  mean: number;
  variance: number;
  skew: number;
}

/** Mean, variance and skewness along the line. */
function momentsOf(line: Line, value: number, sd: number, top: number): Moments {
  const steep = steepness(line, top) / sd;
  const width = 1 / Math.sqrt(1 + steep * steep);
  const least = cost(line, value, sd, top);
  const sums = [0, 0, 0, 0];
  for (let place = -3; place <= 3; place += 1) {
    const node = Math.sign(place) * NODES[Math.abs(place)]!;
    const off = Math.SQRT2 * width * node;
    let weight = WEIGHTS[Math.abs(place)]! * Math.exp(node * node - cost(line, value, sd, top + off) + least);
    for (let power = 0; power <= 3; power += 1) {
      sums[power]! += weight;
      weight *= off;
    }
  }
  const [first, second, third] = [1, 2, 3].map((power) => sums[power]! / sums[0]!) as [
    number,
    number,
    number,
  ];
  const variance = Math.max(LEAST_VARIANCE, second - first * first);
  const skew = (third - 3 * first * second + 2 * first ** 3) / variance ** 1.5;
  return { mean: top + first, variance, skew: Math.min(MOST_SKEW, Math.max(-MOST_SKEW, skew)) };
}

/** The error that brings a reading as far off as `misfit` down to 9/misfit. */
function sdForOutlier(line: Line, value: number, sd: number, misfit: number): number {
  const target = (OUTLIER * OUTLIER) / misfit;
  let low = sd;
  let high = Math.abs(value - line(0)) / target;
  for (let halving = 0; halving < 40; halving += 1) {
    const middle = (low + high) / 2;
    if (2 * cost(line, value, middle, topOf(line, value, middle)) > target * target) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function nothing(sight: Sight, value: number, sd: number, middle: number): Learned {
  return {
    direction: new Float64Array(sight.unknowns),
    mean: 0,
    sd: 1,
    skew: 0,
    misfit: Math.abs(value - middle) / sd,
    expected: { p05: middle, p50: middle, p95: middle },
    usedSd: sd,
    steepness: 0,
  };
}

function unit(vector: Float64Array): Float64Array | undefined {
  const length = Math.sqrt(vector.reduce((sum, one) => sum + one * one, 0));
  return length > 0 && Number.isFinite(length) ? vector.map((one) => one / length) : undefined;
}

function scaled(vector: Float64Array, by: number): Float64Array<ArrayBuffer> {
  return new Float64Array(vector.map((one) => one * by));
}

function distance(one: Float64Array, other: Float64Array): number {
  return Math.sqrt(one.reduce((sum, value, place) => sum + (value - other[place]!) ** 2, 0));
}

/**
 * Where along the direction what was at `t` standard deviations is now: the third-order Cornish–Fisher curve.
 *
 *     T(t) = mean + sd [t + skew (t² − 1)/6]
 */
export function moved({ mean, sd, skew }: Learned, t: number): number {
  return mean + sd * (t + (skew * (t * t - 1)) / 6);
}
