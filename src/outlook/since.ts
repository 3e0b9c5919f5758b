/**
 * Since when a bath is past a limit: kept while the best estimate is replayed.
 */
import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, ipaFraction, isEmpty, resinFraction } from '../bath/state.ts';

/** Soon, change and never of a bath: times at which each was met, not a number while it is not. */
type Met = [number, number, number];

/** By bath, in the order of `shop.tubs`. Plain data. */
export interface MetSoFar {
  resin: Met[];
  water: Met[];
}

export class Since {
  private readonly shop: Shop;
  /** Where it has come to; live. */
  readonly met: MetSoFar;

  /** @param from - where a replay of the entries before came to, which is carried on and changed */
  constructor(shop: Shop, from?: MetSoFar) {
    this.shop = shop;
    const none = (): Met => [Number.NaN, Number.NaN, Number.NaN];
    this.met = from ?? { resin: shop.tubs.map(none), water: shop.tubs.map(none) };
  }

  /** To be called after each step of a replay. */
  readonly watch = ({ entry, baths }: Pick<Step, 'entry' | 'baths'>): void => this.look(baths, entry.atMs);

  /** The baths at a moment. */
  look(baths: readonly Bath[], atMs: number): void {
    baths.forEach((bath, place) => {
      const { limits } = this.shop.tubs[place]!;
      const empty = isEmpty(bath);
      note(this.met.resin[place]!, empty ? 0 : 100 * resinFraction(bath), limits.resin, atMs);
      note(this.met.water[place]!, empty ? 0 : 100 * (1 - ipaFraction(bath)), limits.water, atMs);
    });
  }

  /** When the bath at this place met a limit it is past now; null when it is not past it. */
  of(place: number, what: 'resin' | 'water', limit: 'soon' | 'change' | 'never'): number | null {
    const at = this.met[what][place]![['soon', 'change', 'never'].indexOf(limit)]!;
    return Number.isNaN(at) ? null : at;
  }
}

function note(met: Met, wtPct: number, limits: readonly number[], atMs: number): void {
  for (let place = 0; place < met.length; place += 1) {
    if (wtPct < limits[place]!) met[place] = Number.NaN;
    else if (Number.isNaN(met[place])) met[place] = atMs;
  }
}
