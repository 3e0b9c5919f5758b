/**
 * The baths in the days to come, loads like the recent ones going through them at the shop's pace.
 */
import { stand } from '../bath/air.ts';
import type { Load } from '../bath/load.ts';
import type { AllFactors } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath, ipaFraction, isEmpty, resinFraction } from '../bath/state.ts';
import { emptyTally } from '../bath/tally.ts';
import { washLoad } from '../bath/wash.ts';
import type { Days, Pace } from './pace.ts';

/** The limit that is met first. */
export interface FirstLimit {
  bath: string;
  what: 'resin' | 'water' | 'level';
}

/** How long one set of baths lasts. */
export interface Lasts {
  /** Days from the clock to the limit; not a whole number. Negative: so long ago. */
  days: number;
  loads: number;
  /** Null when no limit was met within the horizon. */
  limit: FirstLimit | null;
  /** Resin wt% of each bath at the end of each day, in the order of `shop.tubs`. */
  resinWtPct: number[][];
}

/** Nobody plans further than a year. */
const HORIZON_DAYS = 365;
const MS_PER_DAY = 86_400_000;
const MS_PER_HOUR = 3_600_000;

/**
 * Goes on day by day until a bath meets its change limit: the baths stand for the day, then its loads go through.
 * Nothing is topped up. Loads of a day need not be a whole number: what is asked is when, on average.
 *
 * @param from - the baths and factors of the best estimate or of one world, at the clock; left as they are
 */
export function goAhead(
  shop: Shop,
  from: { baths: readonly Bath[]; factors: AllFactors },
  load: Load,
  on: { clockMs: number; pace: Pace; days: Days },
): Lasts {
  const baths = from.baths.map(copyBath);
  const lasts: Lasts = { days: 0, loads: 0, limit: null, resinWtPct: [] };
  let before = nearest(baths, shop);
  let startMs = on.clockMs;
  for (let day = 0; day < HORIZON_DAYS; day += 1) {
    const endMs = on.days.next(on.days.startOf(startMs));
    const share = (endMs - startMs) / MS_PER_DAY;
    const loads = day === 0 ? on.pace.today : on.pace.loads[on.days.weekday(startMs)]!;
    standAll(baths, shop, from.factors, (endMs - startMs) / MS_PER_HOUR);
    const dry = loads > 0 ? washDay(baths, shop, from.factors, load, loads) : undefined;
    if (dry !== undefined) return { ...lasts, limit: { bath: shop.tubs[dry]!.name, what: 'level' } };
    const after = nearest(baths, shop);
    lasts.resinWtPct.push(baths.map((bath) => (isEmpty(bath) ? 0 : 100 * resinFraction(bath))));
    if (after.share >= 1 && after.share > before.share) {
      const part = (1 - before.share) / (after.share - before.share);
      return {
        ...lasts,
        days: lasts.days + part * share,
        loads: lasts.loads + part * loads,
        limit: { bath: after.bath, what: after.what },
      };
    }
    lasts.days += share;
    lasts.loads += loads;
    before = after;
    startMs = endMs;
  }
  return lasts;
}

/** When a bath meets its change limit, and what brings it there. */
export interface Met {
  what: 'resin' | 'water';
  /** From the clock; not a whole number. 0 when past it. */
  days: number;
  loads: number;
}

/**
 * When each bath meets its own change limit, going on past the first of them as if nothing were changed.
 *
 * @param within - days to look ahead
 * @returns in the order of `shop.tubs`; null where it meets none in that time, is empty or runs dry
 */
export function limitsAhead(
  shop: Shop,
  from: { baths: readonly Bath[]; factors: AllFactors },
  load: Load,
  on: { clockMs: number; pace: Pace; days: Days; within: number },
): (Met | null)[] {
  const baths = from.baths.map(copyBath);
  const met = baths.map((bath, place): Met | null => {
    const now = shareOf(bath, shop, place);
    return now.share >= 1 ? { what: now.what, days: 0, loads: 0 } : null;
  });
  const before = baths.map((bath, place) => shareOf(bath, shop, place).share);
  let startMs = on.clockMs;
  let days = 0;
  let loads = 0;
  while (days < on.within && met.includes(null)) {
    const endMs = on.days.next(on.days.startOf(startMs));
    const share = (endMs - startMs) / MS_PER_DAY;
    const many = days === 0 ? on.pace.today : on.pace.loads[on.days.weekday(startMs)]!;
    standAll(baths, shop, from.factors, (endMs - startMs) / MS_PER_HOUR);
    if (many > 0 && washDay(baths, shop, from.factors, load, many) !== undefined) return met;
    for (let place = 0; place < baths.length; place += 1) {
      const after = shareOf(baths[place]!, shop, place);
      if (met[place] === null && after.share >= 1) {
        const part = (1 - before[place]!) / (after.share - before[place]!);
        met[place] = { what: after.what, days: days + part * share, loads: loads + part * many };
      }
      before[place] = after.share;
    }
    days += share;
    loads += many;
    startMs = endMs;
  }
  return met;
}

function standAll(baths: readonly Bath[], shop: Shop, factors: AllFactors, hours: number): void {
  baths.forEach((bath, place) => {
    stand(bath, shop.tubs[place]!, shop.resins, hours, factors.air[place]!);
  });
}

/** @returns the place of the bath that could not take the loads; undefined when all went well */
function washDay(
  baths: Bath[],
  shop: Shop,
  factors: AllFactors,
  load: Load,
  loads: number,
): number | undefined {
  const outcome = washLoad(baths, manyOf(load, loads), shop, factors, emptyTally());
  return 'why' in outcome ? outcome.bath : undefined;
}

/** So many equal loads taken together; fewer than one as a smaller load. */
export function manyOf(load: Load, many: number): Load {
  const made: Load = {
    ...load,
    filmG: load.filmG * many,
    trappedG: load.trappedG * many,
    dragMl: load.dragMl * many,
    times: Math.max(1, many),
  };
  if (load.givenDragMl) made.givenDragMl = load.givenDragMl.map((ml) => ml * many);
  return made;
}

/** The bath that is nearest to its change limit, and what brings it there: 1 is at the limit. */
export function nearest(
  baths: readonly Bath[],
  shop: Shop,
): { share: number; bath: string; what: 'resin' | 'water' } {
  let worst = { share: 0, bath: shop.tubs[0]!.name, what: 'resin' as 'resin' | 'water' };
  for (let place = 0; place < baths.length; place += 1) {
    const own = shareOf(baths[place]!, shop, place);
    if (own.share > worst.share) worst = { ...own, bath: shop.tubs[place]!.name };
  }
  return worst;
}

/** How near a bath is to its own change limit; an empty one is not near. */
function shareOf(bath: Bath, shop: Shop, place: number): { share: number; what: 'resin' | 'water' } {
  if (isEmpty(bath)) return { share: 0, what: 'resin' };
  const { limits } = shop.tubs[place]!;
  const resin = (100 * resinFraction(bath)) / limits.resin[1];
  const water = (100 * (1 - ipaFraction(bath))) / limits.water[1];
  return water > resin ? { share: water, what: 'water' } : { share: resin, what: 'resin' };
}
