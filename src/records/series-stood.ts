import { stand } from '../bath/air.ts';
import type { Step } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath } from '../bath/state.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { Entry } from '../ledger/event.ts';

/** Baths as they stand at a moment at which nothing happens. */
interface Standing {
  atMs: number;
  /** The event they stand after. */
  after: Entry;
  /** Of the best estimate. */
  baths: readonly Bath[];
  /** The worlds beside it. */
  ensemble: Ensemble;
}

const MS_PER_HOUR = 3_600_000;
/** So long after an event, every look begins at it, step for step as a ledger looked at then does. */
const LATELY_MS = 60 * 86_400_000;

/** Looks at baths that stand, at one moment after the other; those that stand for years from where the last look left them. */
export class Stood {
  private readonly shop: Shop;
  private last: Standing | undefined;

  constructor(shop: Shop) {
    this.shop = shop;
  }

  /** @param atMs - not before the event, nor before the moment asked about last */
  at(atMs: number, { entry, baths }: Step, ensemble: Ensemble): Standing {
    const goesOn = this.last?.after === entry && this.last.atMs - entry.atMs > LATELY_MS;
    const from = goesOn ? this.last! : { atMs: entry.atMs, baths, ensemble };
    const seen = from.ensemble.at(atMs);
    const hours = (atMs - from.atMs) / MS_PER_HOUR;
    this.last = { atMs, after: entry, baths: this.stood(from.baths, hours, seen), ensemble: seen };
    return this.last;
  }

  private stood(baths: readonly Bath[], hours: number, { worlds }: Ensemble): Bath[] {
    const { tubs, resins } = this.shop;
    const { air } = worlds[0]!.factors;
    return baths.map((held, place) => {
      const bath = copyBath(held);
      stand(bath, tubs[place]!, resins, hours, air[place]!);
      return bath;
    });
  }
}
