/**
 * Solvent poured from stock in a period, and what it cost.
 */
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
}

/** By solvent, in the order in which they were first poured. */
export function usedIn(
  pours: Movements['pours'],
  stock: readonly Pick<Stock, 'solvent' | 'pricePerL'>[],
  period: Period,
): Used[] {
  const byName = new Map<string, number>();
  for (const { atMs, solvent, ml } of pours)
    if (isWithin(period, atMs)) byName.set(solvent, (byName.get(solvent) ?? 0) + ml);
  return [...byName].map(([solvent, ml]) => {
    const pricePerL = stock.find((one) => one.solvent === solvent)?.pricePerL ?? null;
    return { solvent, ml, pricePerL, money: pricePerL === null ? null : (ml / 1000) * pricePerL };
  });
}
