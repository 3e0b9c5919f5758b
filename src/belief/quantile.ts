/**
 * Quantiles of a figure that answers to several independent unknowns.
 */
import { along, type Bend, curvature, slope } from './bend.ts';

/** Standard normal quantiles, to the digits of the published tables (NISTNORMAL, data/SOURCES.md). */
export const Z95 = 1.6448536269514722;
export const Z75 = 0.6744897501960817;

const MOST_STEPS = 40;
const CLOSE = 1e-7;

/**
 * The quantile at `z` standard deviations of Y = Σ y_j(u_j) + s v, with u and v independent standard normal.
 *
 *     max Y, for negative z min Y, over Σ u_j² + v² = z²        found by  u ← z ∇Y/|∇Y|
 *     and ½ (Σ y_j'' − Σ y_j'² y_j''/|∇Y|²) more, what the curves across that direction add on average
 *
 * Exact when Y is a straight line (z times its standard deviation) and when one curve that does not turn decides alone;
 * between them the first-order reliability method of structural engineering with the first term of its second order.
 *
 * Example: lines of slope 3 and 4 and z = 1.645 give 8.22.
 *
 * @param bends y_j
 * @param extraSd s, of what is a straight line of its own
 * @param z −3 to 3
 * @see HASOFERLIND
 */
export function quantileShift(bends: readonly Bend[], extraSd: number, z: number): number {
  const at = bends.map(() => 0);
  if (z === 0) return across(bends, at, extraSd) / 2;
  let atExtra = 0;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const slopes = bends.map((bend, place) => slope(bend, at[place]!));
    const steepness = Math.sqrt(slopes.reduce((sum, one) => sum + one * one, extraSd * extraSd));
    if (steepness === 0) return 0;
    // The first step goes all the way; later ones half of it, since a curve that flattens would make whole ones swing.
    const part = step === 0 ? 1 : 0.5;
    let moved = 0;
    for (let place = 0; place < at.length; place += 1) {
      const next = at[place]! + part * ((z * slopes[place]!) / steepness - at[place]!);
      moved = Math.max(moved, Math.abs(next - at[place]!));
      at[place] = next;
    }
    atExtra += part * ((z * extraSd) / steepness - atExtra);
    if (moved < CLOSE) break;
  }
  const length = Math.sqrt(at.reduce((sum, one) => sum + one * one, atExtra * atExtra));
  const scale = length > 0 ? Math.abs(z) / length : 1;
  const there = at.map((one) => one * scale);
  const nearest = bends.reduce(
    (sum, bend, place) => sum + along(bend, there[place]!),
    extraSd * atExtra * scale,
  );
  return nearest + across(bends, there, extraSd) / 2;
}

/** Sum of the curvatures across the direction of steepest change. */
function across(bends: readonly Bend[], at: readonly number[], extraSd: number): number {
  let steepness = extraSd * extraSd;
  let all = 0;
  let alongIt = 0;
  for (let place = 0; place < bends.length; place += 1) {
    const steep = slope(bends[place]!, at[place]!);
    const curved = curvature(bends[place]!, at[place]!);
    steepness += steep * steep;
    all += curved;
    alongIt += steep * steep * curved;
  }
  return steepness > 0 ? all - alongIt / steepness : 0;
}
