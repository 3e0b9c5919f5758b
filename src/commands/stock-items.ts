/** Each solvent on hand with what the table of `stock` tells beside the sums: lots and their prices, the last count, how long it lasts. */
import type { Entry, StockEvent } from '../ledger/event.ts';
import type { PeroxideTest } from '../outlook/due.ts';
import { testedFromMs } from '../records/peroxide-test.ts';
import type { Stock } from '../records/stock.ts';
import type { LotItem, StockItem } from '../render/stock.ts';

const MS_PER_DAY = 86_400_000;
const PACE_DAYS = 28;
/** A ledger younger than this says nothing about a pace: the first fills are most of it. */
const LEAST_DAYS = 7;
/** Stored reclaimed solvent is tested for peroxides after so many months; the early end of 6 to 12. An engineering choice, PEROXIDES. */
const TEST_AFTER_MONTHS = 6;

/** @param entries - those that were replayed for the stock */
export function stockItems(stock: readonly Stock[], entries: readonly Entry[], clockMs: number): StockItem[] {
  const days = Math.min(PACE_DAYS, entries[0] ? (clockMs - entries[0].atMs) / MS_PER_DAY : 0);
  return stock.map((one) => {
    const own = entries.filter(({ event }) => event.what === 'stock' && event.solvent === one.solvent);
    const events = own.map(({ event }) => event as StockEvent);
    const count = events.findLast((event) => event.counted_ml !== undefined);
    const fromMs = testedFromMs(one, entries);
    return {
      ...one,
      countedMl: count?.counted_ml ?? null,
      lots: one.lots.map((lot): LotItem => ({ ...lot, pricePerL: lotPrice(lot.lot, events) })),
      paceDays: days,
      lastsDays: lastsDays(one, days),
      testByMs: fromMs === null ? null : testByMs(fromMs),
    };
  });
}

/** Until what is on hand is poured, at the pace of these days; null where there is none to tell by. */
function lastsDays({ onHandMl, used28Ml }: Stock, days: number): number | null {
  if (onHandMl === null || onHandMl <= 0 || used28Ml <= 0 || days < LEAST_DAYS) return null;
  return (onHandMl / used28Ml) * days;
}

/** Of all receipts of one lot that name a price. */
function lotPrice(lot: string | null, events: readonly StockEvent[]): number | null {
  const priced = events.filter((event) => (event.lot ?? null) === lot && event.price !== undefined);
  const litres = priced.reduce((sum, event) => sum + (event.received_ml ?? 0) / 1000, 0);
  return litres > 0 ? priced.reduce((sum, event) => sum + event.price!, 0) / litres : null;
}

/** The tests ahead of what was reclaimed and is on hand. */
export function peroxideTests(stock: readonly Stock[], entries: readonly Entry[]): PeroxideTest[] {
  return stock
    .filter(({ reclaimedMl }) => reclaimedMl > 0)
    .flatMap((one) => {
      const fromMs = testedFromMs(one, entries);
      return fromMs === null ? [] : [{ solvent: one.solvent, byMs: testByMs(fromMs) }];
    });
}

/** The same day of a later month, or its last. */
function monthsLater(ms: number, months: number): number {
  const at = new Date(ms);
  const last = new Date(at.getFullYear(), at.getMonth() + months + 1, 0).getDate();
  return new Date(at.getFullYear(), at.getMonth() + months, Math.min(at.getDate(), last)).getTime();
}

/** When solvent reclaimed, or tested, at a moment is to be tested next. */
export function testByMs(fromMs: number): number {
  return monthsLater(fromMs, TEST_AFTER_MONTHS);
}
