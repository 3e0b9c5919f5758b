/**
 * From what a reading says of the unknowns to new worlds, README.md 4.
 */
import { type Bath, resinMass } from '../bath/state.ts';
import { along, heldShift, isFlat, REACH } from './bend.ts';
import type { Ensemble } from './ensemble.ts';
import { factorOn, setFactor } from './factors.ts';
import { addColumn, noCovariance } from './scatter.ts';
import { dot, type Scene } from './sight.ts';
import { type Learned, moved, takeIn } from './update.ts';

/** A reading to learn from. */
export interface Lesson {
  scene: Scene;
  value: number;
  /** Of instrument and model. */
  sd: number;
  /** Grams of resin in each bath for one standard deviation of each z: rows baths. */
  columns: readonly Float64Array[];
}

/** How far a mass may fall below that of the middle: no world holds less than nothing. */
const LEAST_SHARE = 1e-9;

/** Turns of finding the scatter, and the change of a variance that is not worth another. */
const MOST_TURNS = 4;
const SMALL_CHANGE = 0.02;

/** Where a world lies: its u, and the mean of each z there. */
interface Point {
  u: Float64Array;
  z: Float64Array;
}

/**
 * Lays the worlds anew about the new mean, with the new spread, and draws the best estimate to the middle.
 *
 * The scatter z of the washes adds to the error with which the factors are seen; what it may have been follows from what is
 * then still unexplained. With a the slopes of the reading along z:
 *
 *     y | u ~ N(h(u), r² + |a|²),    E[z | u] = a (y − h(u))/(r² + |a|²),    cov[z | u] = I − a aᵀ/(r² + |a|²)
 */
export function learn(ensemble: Ensemble, lesson: Lesson, baths: readonly Bath[]): Learned {
  const { scene, value, sd, columns } = lesson;
  const { learned, slopes } = withScatter(lesson);
  const noise = Math.max(sd * sd, learned.usedSd ** 2 - square(slopes)) + square(slopes);
  const points = pointsOf(ensemble, learned, scene).map((u): Point => {
    const rest = (value - scene.see(u)) / noise;
    return { u, z: slopes.map((one) => one * rest) };
  });
  const gain = slopes.map((one) => one / noise);
  ensemble.scatter = scatterAfter(columns, slopes, gain);
  const grown = baths.map((bath, place) =>
    relayBath(ensemble, { bath, place, points, column: columns[place]! }),
  );
  // The scatter is a share of the resin: grams of it go with the grams they are of.
  ensemble.scatter.forEach((row, one) => {
    for (let other = 0; other < row.length; other += 1) row[other]! *= grown[one]! * grown[other]!;
  });
  relayLast(ensemble, points, slopes, gain);
  relayFactors(ensemble, points);
  return learned;
}

/**
 * Takes the reading in with the scatter of washes as one more error. How much that is depends on where the reading leads, as a
 * load scatters in proportion to what it brings: it is found there, and taken in again.
 */
function withScatter({ scene, value, sd }: Lesson): { learned: Learned; slopes: Float64Array } {
  let slopes = scene.scatterSlopes(new Float64Array(scene.unknowns));
  let learned = takeIn(scene, value, Math.sqrt(sd * sd + square(slopes)));
  for (let turn = 0; turn < MOST_TURNS; turn += 1) {
    const middle = moved(learned, 0);
    const there = scene.scatterSlopes(learned.direction.map((one) => middle * one));
    const change = Math.abs(square(there) - square(slopes));
    if (change <= SMALL_CHANGE * (sd * sd + square(slopes))) break;
    slopes = there;
    learned = takeIn(scene, value, Math.sqrt(sd * sd + square(slopes)));
  }
  return { learned, slopes };
}

/**
 * New places of the worlds. Across the direction each stays where it was; along it, it goes where the reading puts it from
 * there, which follows the curve on which the reading is met, and its distance from that shrinks with the spread.
 */
function pointsOf(ensemble: Ensemble, learned: Learned, scene: Scene): Float64Array[] {
  const { direction, usedSd, steepness } = learned;
  const precision = (steepness / usedSd) ** 2;
  const middle = moved(learned, 0);
  const points = [direction.map((one) => middle * one)];
  const seen = scene.see(points[0]!);
  for (let axis = 0; axis < ensemble.axes.length; axis += 1) {
    for (const side of [REACH, -REACH]) {
      const t = side * direction[axis]!;
      const across = direction.map((one, place) => (place === axis ? side : 0) - t * one);
      const there = scene.see(across.map((one, place) => one + middle * direction[place]!));
      const pull = steepness === 0 ? 0 : ((precision / (1 + precision)) * (seen - there)) / steepness;
      const place = moved(learned, t) + pull;
      points.push(across.map((one, other) => one + place * direction[other]!));
    }
  }
  return points;
}

/**
 * New contents of one bath in every world, and from the middle of them in the best estimate. The worlds hold the mean of the
 * scatter and the best estimate its median: with the relative variance ρ² of the scatter before and after, resin goes by
 * e^(x − (ρ² − ρ'²)/2) with what z has become, and the best estimate is drawn to e^(−ρ'²/2) of that.
 *
 * @returns the resin of the middle over what it was
 */
function relayBath(
  ensemble: Ensemble,
  on: { bath: Bath; place: number; points: readonly Point[]; column: Float64Array },
): number {
  const { bath, place, points, column } = on;
  const held = ensemble.worlds.map((world) => massesOf(world.baths[place]!));
  const resinG = resinMass(ensemble.worlds[0]!.baths[place]!);
  const relative = column.map((grams) => (resinG > 0 ? grams / resinG : 0));
  const left = resinG > 0 ? Math.max(0, ensemble.scatter[place]![place]!) / resinG ** 2 : 0;
  const gone = square(relative) - left;
  const scatter = points.map(({ z }) => dot(relative, z) - gone / 2);
  const none = points.map(() => 0);
  const resins = held[0]!.length - 2;
  const best = massesOf(bath);
  for (let slot = 0; slot < resins + 2; slot += 1) {
    const isResin = slot < resins;
    const values = held.map((masses) => masses[slot] ?? 0);
    const before = { median: median(values[0]!, isResin ? square(relative) : 0), variance: variance(values) };
    relay(ensemble, values, points, isResin ? scatter : none);
    values.forEach((value, world) => {
      held[world]![slot] = value;
    });
    const after = { median: median(values[0]!, isResin ? left : 0), variance: variance(values) };
    if (isResin) {
      before.variance += square(relative);
      after.variance += left;
    }
    best[slot] = drawnIn(best[slot] ?? 0, before, after);
  }
  held.forEach((masses, world) => {
    setMasses(ensemble.worlds[world]!.baths[place]!, masses);
  });
  setMasses(bath, best);
  return resinG > 0 ? resinMass(ensemble.worlds[0]!.baths[place]!) / resinG : 1;
}

/** The median of what has this mean and a log-normal scatter of relative variance `square`. */
function median(mean: number, square: number): number {
  return mean * Math.exp(-square / 2);
}

/** Variance of the logarithm over the worlds. */
function variance(values: readonly number[]): number {
  let sum = 0;
  for (let world = 1; world < values.length; world += 2) {
    const [above, below] = [values[world]!, values[world + 1]!];
    if (above > 0 && below > 0) sum += (Math.log(above / below) / (2 * REACH)) ** 2;
  }
  return sum;
}

interface Held {
  median: number;
  variance: number;
}

/**
 * The best estimate after a reading. It is the sum of medians and lies a little off what the worlds hold; of that distance as much
 * stays as of the variance, so that a reading which says nothing leaves it alone and one that says all takes its place.
 */
function drawnIn(best: number, before: Held, after: Held): number {
  if (!(best > 0 && before.median > 0)) return after.median;
  const stays = before.variance > 0 ? Math.min(1, after.variance / before.variance) : 1;
  return after.median * (best / before.median) ** stays;
}

/** New figures of the last wash. A z beyond those of the baths is the scatter of the wash that was weighed, which is that one. */
function relayLast(
  ensemble: Ensemble,
  points: readonly Point[],
  slopes: Float64Array,
  gain: Float64Array,
): void {
  const { last } = ensemble;
  if (!last) return;
  const own = ensemble.shop.tubs.length;
  const rest = Math.sqrt(Math.max(0, 1 - (slopes[own] ?? 0) * (gain[own] ?? 0)));
  for (const figure of [last.carry, last.residue, ...last.drags]) {
    const scatter = points.map(({ z }) => figure.scatterSd * (z[own] ?? 0));
    figure.moved *= relay(ensemble, figure.values, points, scatter);
    figure.scatterSd *= rest;
  }
}

function relayFactors(ensemble: Ensemble, points: readonly Point[]): void {
  const none = points.map(() => 0);
  for (const axis of ensemble.axes) {
    const values = ensemble.worlds.map(({ factors }) => factorOn(factors, axis));
    relay(ensemble, values, points, none);
    values.forEach((value, world) => {
      setFactor(ensemble.worlds[world]!.factors, axis, value);
    });
  }
}

/**
 * Lays the values of one positive figure anew, at the points.
 *
 * @param scatter - what z adds to its logarithm at each point
 * @returns by how much the middle was moved, as a ratio
 */
function relay(
  ensemble: Ensemble,
  values: number[],
  points: readonly Point[],
  scatter: readonly number[],
): number {
  const middle = values[0]!;
  if (!(middle > 0)) return 1;
  const logs = values.map((value) => Math.log(Math.max(LEAST_SHARE, value / middle)));
  const bends = ensemble.bends(logs);
  // Most figures answer to a few of the factors only.
  const axes = ensemble.axes.flatMap((_, axis) => (isFlat(bends[axis]!) ? [] : [axis]));
  for (let world = 0; world < points.length; world += 1) {
    const { u } = points[world]!;
    let shift = scatter[world]!;
    for (const axis of axes) shift += along(bends[axis]!, u[axis]!);
    values[world] = middle * Math.exp(heldShift(shift));
  }
  return values[0]! / middle;
}

/** What the scatter of washes still leaves unknown: B (I − a gainᵀ) Bᵀ. */
function scatterAfter(
  columns: readonly Float64Array[],
  slopes: Float64Array,
  gain: Float64Array,
): Float64Array[] {
  const after = noCovariance(columns.length);
  slopes.forEach((_, place) => {
    addColumn(
      after,
      columns.map((row) => row[place]!),
    );
  });
  columns.forEach((row, one) => {
    columns.forEach((other, two) => {
      after[one]![two]! -= dot(row, slopes) * dot(other, gain);
    });
  });
  return after;
}

/** Resin by kind, then IPA and water, g. */
function massesOf(bath: Bath): number[] {
  return [...bath.resin, bath.ipaG, bath.waterG];
}

function setMasses(bath: Bath, masses: readonly number[]): void {
  const resins = masses.length - 2;
  bath.resin.length = resins;
  for (let kind = 0; kind < resins; kind += 1) bath.resin[kind] = masses[kind]!;
  bath.ipaG = masses[resins]!;
  bath.waterG = masses[resins + 1]!;
}

function square(vector: ArrayLike<number>): number {
  return dot(vector, vector);
}
