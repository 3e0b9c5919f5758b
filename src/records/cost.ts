/**
 * What the solvent poured in a period cost, by wash and by part.
 */
import type { Movements } from './movements.ts';
import type { Stock } from './stock.ts';

export interface Cost {
  /** Solvent poured, all kinds. */
  pouredMl: number;
  /** In the shop's currency; null when a solvent that was poured has no price. */
  money: number | null;
  /** Solvents that were poured and have no price. */
  unpriced: string[];
  washes: number;
  /** Of the washes that say how many. */
  parts: number;
  /** Washes that do not: with any, the cost of a part is an upper bound. */
  uncountedWashes: number;
  /** Null without a price, without pours, or without washes or parts to share it: nothing here comes free. */
  perWash: number | null;
  perPart: number | null;
}

/**
 * Solvents that were paid for when they were first poured: reclaimed, and without a price of their own. Poured again they cost
 * nothing more, and that they have no price does not make a cost unknown.
 */
export function paidBefore(
  stock: readonly Pick<Stock, 'solvent' | 'reclaimedMl' | 'pricePerL'>[],
): Set<string> {
  const reclaimed = stock.filter(({ reclaimedMl, pricePerL }) => reclaimedMl > 0 && pricePerL === null);
  return new Set(reclaimed.map(({ solvent }) => solvent));
}

/**
 * The cost of solvent after `fromMs`, up to and including `toMs`. Pours are taken at today's price of each solvent. In a
 * short period a change of bath weighs heavily; over several changes it evens out. Waste is not in it: the ledger has no price for it.
 */
export function costOf(
  movements: Pick<Movements, 'pours' | 'washes'>,
  stock: readonly Pick<Stock, 'solvent' | 'pricePerL'>[],
  { fromMs, toMs }: { fromMs: number; toMs: number },
): Cost {
  const within = ({ atMs }: { atMs: number }) => atMs > fromMs && atMs <= toMs;
  const prices = new Map(stock.map(({ solvent, pricePerL }) => [solvent, pricePerL]));
  const pours = movements.pours.filter(within);
  const washes = movements.washes.filter(within);
  const pricePerL = ({ solvent }: { solvent: string }) => prices.get(solvent) ?? null;
  const unpriced = new Set(pours.filter((pour) => pricePerL(pour) === null).map(({ solvent }) => solvent));
  const money = pours.reduce((sum, pour) => sum + (pour.ml / 1000) * (pricePerL(pour) ?? 0), 0);
  const parts = washes.reduce((sum, wash) => sum + wash.parts, 0);
  const known = unpriced.size === 0;
  const among = (count: number) => (known && pours.length > 0 && count > 0 ? money / count : null);
  return {
    pouredMl: pours.reduce((sum, { ml }) => sum + ml, 0),
    money: known ? money : null,
    unpriced: [...unpriced],
    washes: washes.length,
    parts,
    uncountedWashes: washes.filter((wash) => wash.parts === 0).length,
    perWash: among(washes.length),
    perPart: among(parts),
  };
}
