/**
 * Whether the solvent on hand lasts to the next change, and when to order.
 */
import type { Stock } from '../records/stock.ts';
import type { Outlook } from './outlook.ts';

export interface Supply {
  solvent: string;
  /** Null until the ledger was told of stock. */
  onHandMl: number | null;
  neededMl: number;
  /** Null where it is not known what is on hand. */
  enough: boolean | null;
  /** Days from the clock by which to order, so that it comes before the early end of the change; null where there is enough. */
  orderByDays: number | null;
}

/**
 * Holds the stock of the solvent last poured against what the change takes.
 *
 * @param leadDays - from the order to the delivery
 * @returns null where no change is in sight, or nothing was ever poured
 */
export function supplyOf(
  outlook: Outlook | null,
  on: { solvent: string | undefined; stock: readonly Stock[]; leadDays: number },
): Supply | null {
  if (!outlook?.change || !outlook.days || on.solvent === undefined) return null;
  const onHandMl = on.stock.find(({ solvent }) => solvent === on.solvent)?.onHandMl ?? null;
  const neededMl = outlook.change.solventMl;
  const enough = onHandMl === null ? null : onHandMl >= neededMl;
  const early = outlook.days.p05 ?? outlook.days.p50;
  return {
    solvent: on.solvent,
    onHandMl,
    neededMl,
    enough,
    orderByDays: enough === false ? early - on.leadDays : null,
  };
}
