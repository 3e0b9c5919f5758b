/**
 * Waste by month: what arose, whatever was done with it afterwards.
 */
import type { Movements } from './movements.ts';

export interface MonthOfWaste {
  monthStartMs: number;
  /** Drained liquid and tray resin together. */
  kg: number;
  /** Of it, resin rinsed off into the tray. */
  trayKg: number;
  /** Drained liquid at 20 °C. */
  litres: number;
}

/**
 * Drained liquid and tray resin by month, those with any, oldest first. Solvent that is reclaimed later is not taken off again:
 * whether it counts is for local rules to say.
 *
 * @param monthStartOf - the start of a moment's month in the shop's zone
 */
export function monthsOf(
  { wastes, washes }: Pick<Movements, 'wastes' | 'washes'>,
  monthStartOf: (ms: number) => number,
): MonthOfWaste[] {
  const months = new Map<number, MonthOfWaste>();
  const monthOf = (atMs: number): MonthOfWaste => {
    const monthStartMs = monthStartOf(atMs);
    const own = months.get(monthStartMs) ?? { monthStartMs, kg: 0, trayKg: 0, litres: 0 };
    months.set(monthStartMs, own);
    return own;
  };
  for (const { atMs, ml, grams } of wastes) {
    const month = monthOf(atMs);
    month.kg += (grams.resin + grams.ipa + grams.water) / 1000;
    month.litres += ml / 1000;
  }
  for (const { atMs, trayG } of washes) {
    if (trayG === 0) continue;
    const month = monthOf(atMs);
    month.kg += trayG / 1000;
    month.trayKg += trayG / 1000;
  }
  return [...months.values()].sort((one, other) => one.monthStartMs - other.monthStartMs);
}
