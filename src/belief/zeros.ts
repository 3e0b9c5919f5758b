/**
 * A hydrometer or refractometer read in fresh solvent, taken as its zero, README.md 4.
 */
import type { Move } from '../bath/moves.ts';
import type { Shop } from '../bath/shop.ts';
import type { Look, Sees } from './readings.ts';
import { type Learned, OUTLIER } from './update.ts';

interface Zero {
  /** How much more the instrument showed than the solvent should have, in the unit compared. */
  off: number;
  instrumentSd: number;
}

/** By what instruments see, what they are off in the liquid of a bath. Plain data. */
export type ZeroOf = Partial<Record<Sees, Zero>>;

/**
 * Fresh solvent has no resin that a reading could be wrong about. When the first reading of a new fill is more than three
 * standard deviations off, the instrument is off, or the solvent is not what the ledger says; either way what is read of
 * the same liquid later counts as the difference from it. The zero goes with the liquid.
 */
export class Zeros {
  private readonly shop: Shop;
  /** In the order of `shop.tubs`. */
  readonly byTub: ZeroOf[];

  /** @param from - what was known of another of this shop, which this one carries on and changes */
  constructor(shop: Shop, from: ZeroOf[] = shop.tubs.map(() => ({}))) {
    this.shop = shop;
    this.byTub = from;
  }

  /** Keeps a reading of a bath that holds no resin as its zero, if it was too far off to be chance; true when it did. */
  note(look: Look, tub: number, learned: Learned): boolean {
    if (look.sees !== 'density' && look.sees !== 'index') return false;
    if (learned.misfit <= OUTLIER || this.byTub[tub]![look.sees]) return false;
    this.byTub[tub]![look.sees] = {
      off: look.value - learned.expected.p50,
      instrumentSd: look.instrumentSd,
    };
    return true;
  }

  /** What to take off a reading, and its standard deviation then: a difference has the error of both. */
  apply(look: Look, tub: number): { zero: number; sd: number } {
    const zero = this.byTub[tub]![look.sees];
    const squares = look.instrumentSd ** 2 + look.modelSd ** 2 + (zero ? zero.instrumentSd ** 2 : 0);
    return { zero: zero?.off ?? 0, sd: Math.sqrt(squares) };
  }

  moved(move: Move): void {
    const place = (name: string) => this.shop.tubPlace.get(name)!;
    switch (move.what) {
      case 'fill':
      case 'refill':
        this.byTub[place(move.bath)] = {};
        return;
      case 'rotate':
        this.byTub[place('dirty')] = this.byTub[place('clean')]!;
        this.byTub[place('clean')] = {};
        return;
      case 'top-up':
      case 'drain':
        return;
      default:
        move satisfies never;
    }
  }
}
