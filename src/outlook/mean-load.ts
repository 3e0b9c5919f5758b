/**
 * The load that stands for the shop's recent ones.
 */
import type { Load } from '../bath/load.ts';
import type { Replay } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';

export interface MeanLoad {
  load: Load;
  /** How many washes it was taken from. */
  basis: number;
}

/**
 * The mean of the recent washes that went the usual way: film, soak over dissolution time, drag-out and rinse averaged; the
 * resin is the one that brought most. A carry-over that was given counts outright, without the carry-over factor. Where
 * drag-out was measured, the mean of what left stands for all.
 *
 * @returns null when there has been no wash
 */
export function meanLoad(replayed: Replay, shop: Shop): MeanLoad | null {
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
    filmG: mean(({ load }) => (load.givenCarryG === undefined ? load.filmG * (1 - load.prerinseShare) : 0)),
    prerinseShare: 0,
    trappedG: mean(({ load }) => load.givenCarryG ?? load.trappedG),
    soaks: last.load.soaks.map((_, step) => mean((wash) => wash.load.soaks[step]!)),
    midrinseShare: mean((wash) => wash.load.midrinseShare),
    dragMl: mean((wash) => wash.load.dragMl),
  };
  if (measured)
    load.givenDragMl = last.load.baths.map((_, step) => mean(({ outcome }) => outcome.dragMl[step]!));
  return { load, basis: alike.length };
}

/** The recent washes that went the way most of them went; of two as common, the later. */
export function washesAlike({ recent }: Replay): Replay['recent'] {
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
