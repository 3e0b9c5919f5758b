/**
 * A curve through three points: how one figure answers to one unknown.
 */

/** The points lie at −REACH, 0 and REACH standard deviations: the nodes of the three-point Gauss–Hermite rule. */
export const REACH = Math.sqrt(3);

/** The curve y(u) = linear u + square u² + gain (e^(rate u) − 1). It passes through the origin. */
export interface Bend {
  linear: number;
  square: number;
  gain: number;
  rate: number;
}

/** Below this the exponential is a straight line to the last digit worth having. */
const STRAIGHT = 1e-5;
/** Changes of a logarithm below this are no changes. */
const FLAT = 1e-9;
/** No measured curve is steeper; steeper ones come from a bath that dries out. */
const STEEPEST = 5;
/** A curve that turns is followed this far, and is level beyond. */
const TURN_REACH = 2 * REACH;

/**
 * The curve through (−√3, −below), (0, 0) and (√3, above).
 *
 *     y(u) = above (e^(γu) − 1)/(e^(γ√3) − 1),   γ = ln(above/below)/√3
 *
 * An exponential, because factors are log-normal and what they act on is nearly proportional to them: for y = a (κ − 1) with
 * ln κ = s u it is exact, it is a straight line where the two steps are alike, and it never turns. Where the two steps
 * have different signs it is the parabola through the points.
 *
 * Example: above 2.0, below 2.0 is the line 1.1547 u.
 */
export function bendThrough(below: number, above: number): Bend {
  if (!(above * below > 0)) {
    return {
      linear: (above + below) / (2 * REACH),
      square: (above - below) / (2 * REACH * REACH),
      gain: 0,
      rate: 0,
    };
  }
  const steep = Math.min(STEEPEST, Math.max(-STEEPEST, Math.log(above / below)));
  if (Math.abs(steep) < STRAIGHT)
    return { linear: (above + below) / (2 * REACH), square: 0, gain: 0, rate: 0 };
  const size = steep > 0 ? above / Math.expm1(steep) : -below / Math.expm1(-steep);
  return { linear: 0, square: 0, gain: size, rate: steep / REACH };
}

/** y(u). */
export function along(bend: Bend, u: number): number {
  if (bend.rate !== 0) return bend.gain * Math.expm1(bend.rate * u);
  if (bend.square === 0) return bend.linear * u;
  const held = Math.min(TURN_REACH, Math.max(-TURN_REACH, u));
  return bend.linear * held + bend.square * held * held;
}

/** dy/du. */
export function slope(bend: Bend, u: number): number {
  if (bend.rate !== 0) return bend.gain * bend.rate * Math.exp(bend.rate * u);
  if (bend.square === 0) return bend.linear;
  return Math.abs(u) > TURN_REACH ? 0 : bend.linear + 2 * bend.square * u;
}

/** d²y/du². */
export function curvature(bend: Bend, u: number): number {
  if (bend.rate !== 0) return bend.gain * bend.rate * bend.rate * Math.exp(bend.rate * u);
  return bend.square === 0 || Math.abs(u) > TURN_REACH ? 0 : 2 * bend.square;
}

/** No mass or factor is more than a thousand times what the middle has; a steep curve followed far out would say so. */
const MOST_SHIFT = 7;

/** A change of a logarithm, held to what can be. */
export function heldShift(shift: number): number {
  return Math.min(MOST_SHIFT, Math.max(-MOST_SHIFT, shift));
}

/** A curve that stays at the origin, to the last digit worth having. */
export function isFlat({ linear, square, gain }: Bend): boolean {
  return Math.abs(linear) + Math.abs(square) + Math.abs(gain) < FLAT;
}
