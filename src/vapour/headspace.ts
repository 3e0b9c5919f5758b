/** The vapour in a closed tub against the range in which it burns. */
import { PRESSURE_PA } from './constants.ts';
import { pressureOver } from './surface.ts';

/** Lower and upper flammable limits, % v/v. */
export interface FlammableRange {
  lower: number;
  upper: number;
}

export interface Headspace {
  /** Saturated vapour, % v/v. */
  percent: number;
  /** `inside`: a spark can light it. `below` and `above` say nothing about a warmer spot, a splash, or air let in. */
  place: 'below' | 'inside' | 'above';
  /** The temperatures between which it would be inside, °C. */
  fromC: number;
  toC: number;
}

/**
 * Saturated vapour of isopropanol over a liquid [% v/v].
 *
 *     φ = 100 a p/P
 *
 * a: activity; p: vapour pressure of dry isopropanol, Pa; P: 101 325 Pa. 10–40 °C.
 * Example: dry isopropanol at 22 °C → 4.9 %, two and a half times the lower limit of 2.0 %. [POLING]
 */
export function headspacePercent(activity: number, tempC: number): number {
  return (100 * pressureOver(activity, tempC)) / PRESSURE_PA;
}

/** The headspace of a tub with an activity of isopropanol, held against the flammable range; a limit itself counts as inside. */
export function headspaceOf(activity: number, tempC: number, range: FlammableRange): Headspace {
  const percent = headspacePercent(activity, tempC);
  const place = percent < range.lower ? 'below' : percent > range.upper ? 'above' : 'inside';
  const [fromC, toC] = [range.lower, range.upper].map((limit) => temperatureAt(activity, limit));
  return { percent, place, fromC: fromC!, toC: toC! };
}

/** Hotter and colder than any liquid here, °C. */
const COLDEST = -20;
const HOTTEST = 120;

/** The temperature [°C] at which the saturated vapour comes to a share [% v/v], by halving. */
function temperatureAt(activity: number, percent: number): number {
  let [low, high] = [COLDEST, HOTTEST];
  for (let halving = 0; halving < 50; halving += 1) {
    const middle = (low + high) / 2;
    if (headspacePercent(activity, middle) < percent) low = middle;
    else high = middle;
  }
  return low;
}
