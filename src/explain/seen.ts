/** A shop replayed for its numbers to be explained: the status, one wash as it was, and where the grams of each bath came from. */
import type { Load } from '../bath/load.ts';
import { type AllFactors, priorMedians, type Step } from '../bath/replay.ts';
import type { Factors, Shop } from '../bath/shop.ts';
import { type Bath, copyBath, emptyBath } from '../bath/state.ts';
import { emptyTally } from '../bath/tally.ts';
import { type WashOutcome, washLoad } from '../bath/wash.ts';
import type { Belief } from '../belief/belief.ts';
import type { Entry, WashEvent } from '../ledger/event.ts';
import type { Header } from '../ledger/header.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { Balances, type BathHistory } from './balance.ts';

/** A wash with all that went into its numbers. */
export interface SeenWash {
  entry: Entry;
  event: WashEvent;
  load: Load;
  outcome: WashOutcome;
  before: Bath[];
  /** As they were known when it was washed. */
  factors: Factors;
  isLast: boolean;
}

export interface Seen {
  shop: Shop;
  /** What the shop says itself, and what is left to the program. */
  header: Header;
  status: Status;
  /** The wash that was asked for, else the last; null where there is none. */
  wash: SeenWash | null;
  /** In the order of `shop.tubs`. */
  histories: BathHistory[];
}

/** @param washId - the wash to explain; the last one where it is left out */
export function seeShop(on: {
  shop: Shop;
  header: Header;
  entries: readonly Entry[];
  clockMs: number;
  washId?: string | undefined;
}): Seen {
  const { shop, header, entries, clockMs, washId } = on;
  const balances = new Balances(shop.tubs.length, shop.tubs.map(emptyBath));
  let wash: SeenWash | null = null;
  let factors: Factors = { ...shop.factors };
  const watch = (step: Step, { ensemble }: Belief) => {
    balances.see(step);
    if (step.wash && (washId === undefined || step.entry.event.id === washId)) wash = washFrom(step, factors);
    factors = { ...(ensemble.worlds[0]?.factors ?? priorMedians(shop)) };
  };
  const status = statusOf(shop, entries, clockMs, { watch });
  balances.end(status.replayed.baths);
  const last = status.lastWash?.id;
  const seen = wash as SeenWash | null;
  return {
    shop,
    header,
    status,
    wash: seen && { ...seen, isLast: seen.entry.event.id === last },
    histories: balances.baths,
  };
}

function washFrom({ entry, load, wash, before }: Step, { carry, drag, dissolution }: AllFactors | Factors) {
  return {
    entry,
    event: entry.event as WashEvent,
    load: load!,
    outcome: wash!,
    before: before.map(copyBath),
    factors: { carry, drag, dissolution },
    isLast: false,
  };
}

/** The bath of a wash's nth step, right after the load left it: the same mixture as the one it left with. */
export function bathAfterStep({ load, before, factors }: SeenWash, shop: Shop, nth: number): Bath {
  const baths = before.map(copyBath);
  const upTo = { ...load, baths: load.baths.slice(0, nth + 1) };
  washLoad(baths, upTo, shop, factors, emptyTally());
  return baths[load.baths[nth]!]!;
}
