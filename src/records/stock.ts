/**
 * Solvent on hand: what was counted, received and reclaimed, less what was poured.
 */
import type { Shop } from '../bath/shop.ts';
import type { Entry, RecordEvent } from '../ledger/event.ts';
import type { Movements } from './movements.ts';

/** What came in under one lot. */
interface Lot {
  /** Null when the receipt names none. */
  lot: string | null;
  receivedMl: number;
  /** When it first came in. */
  atMs: number;
}

export interface Stock {
  solvent: string;
  /** Null until something of it was received, counted or reclaimed. Below 0 when more was poured than came in. */
  onHandMl: number | null;
  /** More was poured than the ledger knows of: a receipt is missing, or a count is due. */
  belowZero: boolean;
  /** The last count. */
  countedMs?: number;
  receivedMl: number;
  reclaimedMl: number;
  /** Poured into the baths, all of it and in the last 28 days. */
  usedMl: number;
  used28Ml: number;
  /** In the order in which they came. */
  lots: Lot[];
  /** In the shop's currency; null when neither a receipt nor the header names one. */
  pricePerL: number | null;
  priceFrom: 'received' | 'header' | null;
}

const RECENT_MS = 28 * 86_400_000;

/**
 * The stock of each solvent that the ledger moves, in the order of the shop's solvents.
 *
 * A count sets what is on hand at that moment, of all lots together; receipts and reclaimed solvent add, pours take off. What was
 * poured before the first of them does not count against it. The price is that of the latest receipt with one, else the header's.
 *
 * @param entries - those that were replayed
 * @param movements - of that replay
 */
export function stockOf(
  shop: Pick<Shop, 'solvents'>,
  entries: readonly Entry[],
  movements: Pick<Movements, 'pours'>,
  clockMs: number,
): Stock[] {
  const kept = new Map<string, Stock>();
  const stockOf = (solvent: string): Stock => {
    const own = kept.get(solvent) ?? nothingOf(solvent, shop);
    kept.set(solvent, own);
    return own;
  };
  let next = 0;
  for (const { event, atMs } of entries) {
    for (let pour = movements.pours[next]; pour?.eventId === event.id; pour = movements.pours[next]) {
      takeFrom(stockOf(pour.solvent), pour, clockMs);
      next += 1;
    }
    if (event.what === 'stock' || event.what === 'reclaim') putInto(stockOf(event.solvent), event, atMs);
  }
  const order = [...shop.solvents.keys()];
  return [...kept.values()]
    .map((one) => ({ ...one, belowZero: one.onHandMl !== null && one.onHandMl < 0 }))
    .sort((one, other) => order.indexOf(one.solvent) - order.indexOf(other.solvent));
}

function nothingOf(solvent: string, shop: Pick<Shop, 'solvents'>): Stock {
  const pricePerL = shop.solvents.get(solvent)?.pricePerL ?? null;
  return {
    solvent,
    onHandMl: null,
    belowZero: false,
    receivedMl: 0,
    reclaimedMl: 0,
    usedMl: 0,
    used28Ml: 0,
    lots: [],
    pricePerL,
    priceFrom: pricePerL === null ? null : 'header',
  };
}

function takeFrom(stock: Stock, { ml, atMs }: { ml: number; atMs: number }, clockMs: number): void {
  stock.usedMl += ml;
  if (atMs > clockMs - RECENT_MS) stock.used28Ml += ml;
  if (stock.onHandMl !== null) stock.onHandMl -= ml;
}

function putInto(
  stock: Stock,
  event: Extract<RecordEvent, { what: 'stock' | 'reclaim' }>,
  atMs: number,
): void {
  if (event.what === 'reclaim') {
    stock.reclaimedMl += event.ml;
    stock.onHandMl = (stock.onHandMl ?? 0) + event.ml;
  } else if (event.counted_ml !== undefined) {
    stock.countedMs = atMs;
    stock.onHandMl = event.counted_ml;
  } else if (event.received_ml !== undefined) {
    const ml = event.received_ml;
    stock.receivedMl += ml;
    stock.onHandMl = (stock.onHandMl ?? 0) + ml;
    intoLot(stock.lots, { lot: event.lot ?? null, receivedMl: ml, atMs });
    if (event.price === undefined) return;
    stock.pricePerL = event.price / (ml / 1000);
    stock.priceFrom = 'received';
  }
}

function intoLot(lots: Lot[], received: Lot): void {
  const same = lots.find(({ lot }) => lot === received.lot);
  if (same) same.receivedMl += received.receivedMl;
  else lots.push(received);
}
