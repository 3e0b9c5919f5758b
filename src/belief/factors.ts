/**
 * The factors of the model as a list of logarithms, and what is known of them before any reading, README.md 1.
 */
import type { AllFactors } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';

export type FactorName = 'carry' | 'drag' | 'dissolution' | 'evaporation' | 'moisture';

/**
 * Standard deviations of ln κ before any reading, about a factor of two either way. Engineering values of MODEL; no
 * spread of any of them has been published (data/SOURCES.md, DEFAULTS).
 */
export const PRIOR_SD: Record<FactorName, number> = {
  carry: 0.45,
  drag: 0.5,
  dissolution: 0.35,
  evaporation: 0.7,
  moisture: 0.7,
};

/** Standard deviation of ln c of one wash about what the factors say. Same basis. */
export const WASH_SCATTER = 0.25;

/**
 * Mean of a wash's own scatter, e^(0.25²/2): its median is 1, but what gathers in a bath is the sum of many, and sums follow
 * the mean.
 */
export const SCATTER_MEAN = Math.exp(WASH_SCATTER ** 2 / 2);

/** One factor that is not known: of the shop, or with `tub` of that bath's place. */
export interface Axis {
  name: FactorName;
  /** Place in `shop.tubs`; absent for a factor of the shop. */
  tub?: number;
  priorSd: number;
}

/**
 * What is unsure of one wash that was logged from memory, beside its own scatter: a standard deviation relative to what it brings.
 * "About five" is meant to be right within one, 20 %, so that each of them has 0.2 √5 when they err apart; and what each of them
 * was is as unsure as the loads of a shop differ, 0.5. Engineering values without a source, README.md 3.
 *
 *     sqrt( (0.2 √5)² + 0.5² ) = 0.67
 */
export const ESTIMATED_SCATTER = Math.hypot(0.2 * Math.sqrt(5), 0.5);

/** Standard deviation of ln c of one wash about what the factors say: more where it was logged from memory. */
export function washScatter({ estimated }: { estimated?: true }): number {
  return estimated ? Math.hypot(WASH_SCATTER, ESTIMATED_SCATTER) : WASH_SCATTER;
}

/** The factors that are not known, in a fixed order. One that is 0 is switched off, and known. */
export function axesOf(shop: Shop): Axis[] {
  const axes: Axis[] = [];
  for (const name of ['carry', 'drag', 'dissolution'] as const) {
    if (shop.factors[name] > 0) axes.push({ name, priorSd: PRIOR_SD[name] });
  }
  shop.tubs.forEach((place, tub) => {
    for (const name of ['evaporation', 'moisture'] as const) {
      if (place[name] > 0) axes.push({ name, tub, priorSd: PRIOR_SD[name] });
    }
  });
  return axes;
}

/** The value of one factor. */
export function factorOn(factors: AllFactors, { name, tub }: Axis): number {
  switch (name) {
    case 'carry':
    case 'drag':
    case 'dissolution':
      return factors[name];
    case 'evaporation':
    case 'moisture':
      return factors.air[tub!]![name];
    default:
      return name satisfies never;
  }
}

/** Sets one factor. */
export function setFactor(factors: AllFactors, { name, tub }: Axis, value: number): void {
  switch (name) {
    case 'carry':
    case 'drag':
    case 'dissolution':
      factors[name] = value;
      return;
    case 'evaporation':
    case 'moisture':
      factors.air[tub!]![name] = value;
      return;
    default:
      name satisfies never;
  }
}

/** Factors of their own with the same values. */
export function copyFactors(factors: AllFactors): AllFactors {
  return { ...factors, air: factors.air.map((place) => ({ ...place })) };
}
