/**
 * How many more loads like the recent ones the pair takes before either bath reaches a limit.
 */
import type { Load } from '../bath/load.ts';
import type { AllFactors, Replay } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath, ipaFraction, isEmpty, resinFraction } from '../bath/state.ts';
import { emptyTally } from '../bath/tally.ts';
import { washLoad } from '../bath/wash.ts';

export interface LoadsLeft {
  /** Most loads that leave every bath below its change limit. */
  loads: number;
  /** The bath that meets its limit first, and what decided; `level` when it would run dry. Null when the count was capped. */
  bath: string | null;
  because: 'resin' | 'water' | 'level' | null;
  /** How many washes the mean load was taken from. */
  basis: number;
  partsPerLoad: number;
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
  if (!mean || mean.baths.some((place) => isEmpty(replayed.baths[place]!))) return null;
  const baths = replayed.baths.map(copyBath);
  const basis = { basis: washesAlike(replayed).length, partsPerLoad: mean.parts };
  let met = limitMet(baths, shop);
  for (let loads = 0; loads < MOST_LOADS; loads += 1) {
    if (met) return { loads: Math.max(0, loads - 1), ...met, ...basis };
    const outcome = washLoad(baths, mean, shop, factors, emptyTally());
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
 * The mean of the recent washes that went the usual way: carry-over, soak over dissolution time, drag-out and rinse
 * averaged; the resin is the one that brought most. Where drag-out was measured, the mean of what left stands for all.
 */
function meanLoad(replayed: Replay, shop: Shop): Load | null {
  const alike = washesAlike(replayed);
  const last = alike.at(-1);
  if (!last) return null;
  const mean = (of: (wash: Replay['recent'][number]) => number) =>
    alike.reduce((sum, wash) => sum + of(wash), 0) / alike.length;
  const measured = alike.some(({ load }) => load.givenDragMl);
  const load: Load = {
    resin: heaviestResin(alike, shop),
    baths: last.load.baths,
    parts: mean((wash) => wash.load.parts),
    areaCm2: mean((wash) => wash.load.areaCm2),
    volumeMl: mean((wash) => wash.load.volumeMl),
    filmG: 0,
    prerinseShare: 0,
    trappedG: 0,
    givenCarryG: mean((wash) => wash.outcome.carryG),
    soaks: last.load.soaks.map((_, step) => mean((wash) => wash.load.soaks[step]!)),
    midrinseShare: mean((wash) => wash.load.midrinseShare),
    dragMl: mean((wash) => wash.load.dragMl),
  };
  if (measured)
    load.givenDragMl = last.load.baths.map((_, step) => mean(({ outcome }) => outcome.dragMl[step]!));
  return load;
}

/** The recent washes that went the way most of them went; of two as common, the later. */
function washesAlike({ recent }: Replay): Replay['recent'] {
  const byRoute = new Map<string, Replay['recent']>();
  for (const wash of recent) {
    const route = wash.load.baths.join();
    byRoute.set(route, [...(byRoute.get(route) ?? []), wash]);
  }
  return [...byRoute.values()].reduce((most, one) => (one.length >= most.length ? one : most), []);
}

function heaviestResin(washes: Replay['recent'], shop: Shop): number {
  const grams = shop.resins.map(() => 0);
  for (const { load, outcome } of washes) grams[load.resin]! += outcome.carryG;
  return grams.indexOf(Math.max(...grams));
}
