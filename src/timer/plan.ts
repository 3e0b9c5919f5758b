/** The steps of a guided wash: what is done before each bath, how long the soak is to be, what to do halfway, how long to dry. */
import { loadOf, soakMinutes } from '../bath/load.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, bathVolume } from '../bath/state.ts';
import type { WashEvent } from '../ledger/event.ts';

export type Rinse = 'none' | 'spray' | 'brush' | 'spin';

export interface Soak {
  bath: string;
  plannedMs: number;
  /** What is done to the parts before this bath. */
  rinse: Rinse;
  /** Why the parts are turned over halfway; absent where the bath moves and covers them. */
  turn?: 'still' | 'shallow';
  /** Liquid over the floor of the bath with the parts in it, mm. */
  depthMm: number;
}

export interface Plan {
  soaks: readonly Soak[];
  dryMs: number;
}

/** A liquid less deep than this leaves parts that stand on edge uncovered. Our judgement; common practice, no source. */
const SHALLOW_MM = 50;
/** A shorter soak is over before anybody has turned the parts. Our judgement. */
const TURNED_FROM_MIN = 1;

/**
 * The plan of a wash.
 *
 * @param baths - as they stand before it
 */
export function planOf(
  wash: WashEvent,
  shop: Shop,
  { baths, dryMin }: { baths: readonly Bath[]; dryMin: number },
): Plan {
  const load = loadOf(wash, shop);
  const minutes = soakMinutes(wash, shop);
  const prerinse = wash.prerinse ?? shop.defaults.prerinse;
  const midrinse = wash.midrinse ?? shop.defaults.midrinse;
  const still = (wash.agitation ?? shop.defaults.agitation) === 'still';
  const soaks = load.baths.map((place, step): Soak => {
    const tub = shop.tubs[place]!;
    const partsMl = Number.isNaN(load.volumeMl) ? 0 : load.volumeMl;
    const depthMm = (bathVolume(baths[place]!, shop.resins) + partsMl) / tub.surfaceM2 / 1000;
    const turn = depthMm < SHALLOW_MM ? 'shallow' : still ? 'still' : undefined;
    return {
      bath: tub.name,
      plannedMs: Math.round(minutes[step]! * 60_000),
      rinse: step === 0 ? prerinse : midrinse,
      ...(turn && minutes[step]! >= TURNED_FROM_MIN ? { turn } : {}),
      depthMm,
    };
  });
  return { soaks, dryMs: dryMin * 60_000 };
}
