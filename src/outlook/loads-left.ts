/**
 * How many more loads like the recent ones the pair takes before either bath reaches a limit.
 */
import type { Load } from '../bath/load.ts';
import type { AllFactors, Replay } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath, ipaFraction, isEmpty, resinFraction } from '../bath/state.ts';
import { emptyTally } from '../bath/tally.ts';
import { washLoad } from '../bath/wash.ts';
import { manyOf, nearest } from './ahead.ts';
import { meanLoad } from './mean-load.ts';

export interface LoadsLeft {
  /** Most loads that leave every bath below its change limit. */
  loads: number;
  /** The bath that meets its limit first, and what decided; `level` when it would run dry. Null when the count was capped. */
  bath: string | null;
  because: 'resin' | 'water' | 'level' | null;
  /** How many washes the mean load was taken from. */
  basis: number;
  partsPerLoad: number;
  /** 5 and 95 % points, whole loads. */
  p05?: number;
  p95?: number;
}

/** More than this nobody plans for. */
const MOST_LOADS = 10_000;

/**
 * Counts at the mean of the recent washes, with nothing evaporating and nothing topped up.
 *
 * @returns null when there has been no wash, or a bath of the usual route is empty
 */
export function loadsLeft(shop: Shop, replayed: Replay, factors: AllFactors): LoadsLeft | null {
  const mean = meanLoad(replayed, shop);
  if (!mean || mean.load.baths.some((place) => isEmpty(replayed.baths[place]!))) return null;
  const baths = replayed.baths.map(copyBath);
  const basis = { basis: mean.basis, partsPerLoad: mean.load.parts };
  let met = limitMet(baths, shop);
  for (let loads = 0; loads < MOST_LOADS; loads += 1) {
    if (met) return { loads: Math.max(0, loads - 1), ...met, ...basis };
    const outcome = washLoad(baths, mean.load, shop, factors, emptyTally());
    if ('why' in outcome) return { loads, bath: shop.tubs[outcome.bath]!.name, because: 'level', ...basis };
    met = limitMet(baths, shop);
  }
  return { loads: MOST_LOADS, bath: null, because: null, ...basis };
}

function limitMet(baths: Bath[], shop: Shop): { bath: string; because: 'resin' | 'water' } | null {
  for (let place = baths.length - 1; place >= 0; place -= 1) {
    const bath = baths[place]!;
    if (isEmpty(bath)) continue;
    const { name, limits } = shop.tubs[place]!;
    if (100 * resinFraction(bath) >= limits.resin[1]) return { bath: name, because: 'resin' };
    if (100 * (1 - ipaFraction(bath)) >= limits.water[1]) return { bath: name, because: 'water' };
  }
  return null;
}

/**
 * The same as a number that changes smoothly, `stride` loads at a time: how one world differs from another, not how many loads
 * there are. Negative when a bath is past its limit already: so many loads ago.
 */
export function loadsBetween(
  shop: Shop,
  world: { baths: readonly Bath[]; factors: AllFactors },
  load: Load,
  stride: number,
): number {
  const baths = world.baths.map(copyBath);
  const many = manyOf(load, stride);
  let before = nearest(baths, shop).share;
  for (let loads = 0; loads < MOST_LOADS; loads += stride) {
    if ('why' in washLoad(baths, many, shop, world.factors, emptyTally())) return loads;
    const after = nearest(baths, shop).share;
    if (after >= 1 && after > before) return loads + (stride * (1 - before)) / (after - before);
    before = after;
  }
  return MOST_LOADS;
}
