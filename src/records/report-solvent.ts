/**
 * Solvent poured from stock in a period, and what it cost.
 */
import { paidBefore } from './cost.ts';
import type { Movements } from './movements.ts';
import { isWithin, type Period } from './report-period.ts';
import type { Stock } from './stock.ts';

export interface Used {
  solvent: string;
  /** At 20 °C. */
  ml: number;
  /** At today's price, in the shop's currency; null without a price. */
  pricePerL: number | null;
  money: number | null;
  /** Reclaimed: paid for when it was first poured, and in no sum of money again. */
  paidBefore: boolean;
}

/** By solvent, in the order in which they were first poured. */
export function usedIn(
  pours: Movements['pours'],
  stock: readonly Pick<Stock, 'solvent' | 'pricePerL' | 'reclaimedMl'>[],
  period: Period,
): Used[] {
  const byName = new Map<string, number>();
  for (const { atMs, solvent, ml } of pours)
    if (isWithin(period, atMs)) byName.set(solvent, (byName.get(solvent) ?? 0) + ml);
  const again = paidBefore(stock);
  return [...byName].map(([solvent, ml]) => {
    const pricePerL = stock.find((one) => one.solvent === solvent)?.pricePerL ?? null;
    const money = pricePerL === null ? null : (ml / 1000) * pricePerL;
    return { solvent, ml, pricePerL, money, paidBefore: again.has(solvent) };
  });
}
