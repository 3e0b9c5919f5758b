/**
 * When the pair needs changing, and what for: loads, parts and days to the first limit, with their bands.
 */
import { stand } from '../bath/air.ts';
import type { Load } from '../bath/load.ts';
import { bathVolume, copyBath, isEmpty } from '../bath/state.ts';
import { bandOf, withScatterAhead } from '../belief/band.ts';
import { WASH_SCATTER } from '../belief/factors.ts';
import { atMeanScatter } from '../belief/lump.ts';
import { type FirstLimit, goAhead, type Lasts } from './ahead.ts';
import { meanLoad } from './mean-load.ts';
import type { Days, Pace } from './pace.ts';
import type { Quantity } from './quantity.ts';
import type { Known } from './status.ts';

export interface Outlook {
  /** Loads, parts and days to the first limit; p50 is null where no limit is met within a year. */
  loads: Quantity | null;
  parts: Quantity | null;
  days: Quantity | null;
  /** Of the best estimate; null when none is met within a year. */
  limit: FirstLimit | null;
  /** Past it already. */
  past: boolean;
  /** Age limits to come, in the order of `shop.tubs`: days from the clock; null for an empty bath. Negative when past. */
  ageDays: (number | null)[];
  /** What the change takes; `makeUpMl` of it brings the dirty bath to its mark. */
  change: { action: 'rotate' | 'refill'; baths: string[]; solventMl: number; makeUpMl: number } | null;
  pace: Pace;
  /** Washes the mean load was taken from. */
  basis: number;
  load: Load;
  best: Lasts;
  /** In each world, the middle first; short of the horizon where nothing was met. */
  worlds: Lasts[];
}

/**
 * Repeats the mean of the recent loads at the shop's pace, in the best estimate and in every world, until the first limit.
 *
 * Besides the factors, the days answer to the scatter of the loads to come, to how much a day brings, and to how well the days
 * behind tell the pace:
 *
 *     sd of ln(days) = sqrt( 0.25²/loads + scatter of a day² (1/days + 1/days behind) )
 *
 * @param parts - parts a load, where not those of the recent ones
 * @returns null when there was no wash, or a bath of the usual route is empty
 */
export function outlookOf(
  status: Known,
  on: { pace: Pace; days: Days; partsPerLoad?: number },
): Outlook | null {
  const { shop, replayed, factors, belief, clockMs } = status;
  const mean = meanLoad(replayed, shop);
  if (!mean || mean.load.baths.some((place) => isEmpty(replayed.baths[place]!))) return null;
  const load = scaledTo(mean.load, on.partsPerLoad);
  const given = { clockMs, pace: on.pace, days: on.days };
  const best = goAhead(shop, { baths: replayed.baths, factors }, load, given);
  const { ensemble } = belief;
  const ahead = atMeanScatter(load);
  const worlds = ensemble.worlds.map((world) => goAhead(shop, world, ahead, given));
  const { limit } = best;
  const band = (of: (lasts: Lasts) => number): Quantity | null => {
    if (!limit) return null;
    const scatterSd = scatterOf(best, on.pace);
    const figure = withScatterAhead({ best: of(best), values: worlds.map(of) }, scatterSd);
    const { p05, p50, p95 } = bandOf(ensemble, figure);
    return { p05: Math.max(0, p05), p50: Math.max(0, p50), p95: Math.max(0, p95) };
  };
  const loads = band((lasts) => lasts.loads);
  return {
    loads,
    parts: loads && times(loads, load.parts),
    days: band((lasts) => lasts.days),
    limit,
    past: limit !== null && best.days <= 0,
    ageDays: agesOf(status),
    change: limit && changeFor(limit, status, best.days),
    pace: on.pace,
    basis: mean.basis,
    load,
    best,
    worlds,
  };
}

/** Standard deviation of the logarithm of what so many loads on so many days bring, about what was foreseen. */
export function scatterOf(
  { loads, days }: Pick<Lasts, 'loads' | 'days'>,
  { dayScatter, basisDays }: Pace,
): number {
  const ahead = dayScatter ** 2 / Math.max(1, days) + (basisDays > 0 ? dayScatter ** 2 / basisDays : 0);
  return Math.sqrt(WASH_SCATTER ** 2 / Math.max(1, loads) + ahead);
}

/** The load with another number of parts of the same mix. */
function scaledTo(load: Load, parts: number | undefined): Load {
  if (parts === undefined || !(load.parts > 0)) return load;
  const ratio = parts / load.parts;
  return {
    ...load,
    parts,
    areaCm2: load.areaCm2 * ratio,
    volumeMl: load.volumeMl * ratio,
    filmG: load.filmG * ratio,
    trappedG: load.trappedG * ratio,
    dragMl: load.dragMl * ratio,
  };
}

function times({ p05 = 0, p50, p95 = 0 }: Quantity, by: number): Quantity {
  return { p05: p05 * by, p50: p50 * by, p95: p95 * by };
}

/** Days until each bath is as old as its limit. */
function agesOf({ estimates }: Known): (number | null)[] {
  return estimates.map(({ ageDays, limits }) => (ageDays === null ? null : limits.ageDays - ageDays));
}

/**
 * What cures a limit, and the solvent it takes: resin a rotation, with what the clean bath then lacks of the dirty mark; water, or
 * a bath that is not of the pair, a refill of that bath.
 */
function changeFor(limit: FirstLimit, { shop, replayed, factors }: Known, days: number): Outlook['change'] {
  const tub = shop.tubs[shop.tubPlace.get(limit.bath)!]!;
  const pair = ['dirty', 'clean'].map((name) => shop.tubPlace.get(name));
  const [dirty, clean] = pair;
  if (
    limit.what !== 'resin' ||
    dirty === undefined ||
    clean === undefined ||
    !pair.includes(shop.tubs.indexOf(tub))
  )
    return { action: 'refill', baths: [limit.bath], solventMl: tub.markMl, makeUpMl: 0 };
  const bath = copyBath(replayed.baths[clean]!);
  stand(bath, shop.tubs[clean]!, shop.resins, Math.max(0, days) * 24, factors.air[clean]!);
  const lacks = Math.max(0, shop.tubs[dirty]!.markMl - bathVolume(bath, shop.resins));
  return {
    action: 'rotate',
    baths: ['dirty', 'clean'],
    solventMl: shop.tubs[clean]!.markMl + lacks,
    makeUpMl: lacks,
  };
}
