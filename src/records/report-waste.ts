/**
 * Waste as a report tells it: the month so far, the containers in use, and the thresholds it is held against.
 */
import type { MonthOfWaste } from './months.ts';
import { isWithin, type Period } from './report-period.ts';
import type { Container, Waste } from './waste.ts';
import type { WasteRule } from './waste-rules.ts';

export interface Threshold {
  rule: WasteRule;
  /** What there is of it, in the unit of the rule. */
  amount: number;
  past: boolean;
}

export interface WasteReported {
  month: MonthOfWaste;
  /** In containers that stand on site. */
  siteKg: number;
  /** In use, and those closed in the period. What names no container is in the month alone. */
  containers: Container[];
  thresholds: Threshold[];
}

/**
 * The waste of the month that holds the end of a period. Local rules decide; a table of thresholds is no judgement.
 *
 * @param isPast - whether an amount is past a rule
 * @returns null when no waste arose in that month, and no container is in use or was closed in the period
 */
export function wasteReported(
  { months, containers }: Waste,
  on: {
    period: Period;
    monthStartMs: number;
    rules: readonly WasteRule[];
    isPast(rule: WasteRule, amount: number): boolean;
  },
): WasteReported | null {
  const { monthStartMs, period, rules, isPast } = on;
  const month = months.find((one) => one.monthStartMs === monthStartMs) ?? {
    monthStartMs,
    kg: 0,
    trayKg: 0,
    litres: 0,
  };
  const named = containers.filter(({ container }) => container !== null);
  const inUse = named.filter(({ closed }) => closed === null);
  const told = named.filter(
    ({ closed, closedMs }) => closed === null || (closedMs !== null && isWithin(period, closedMs)),
  );
  if (month.kg === 0 && told.length === 0) return null;
  const siteKg = named.reduce((sum, { grams }) => sum + grams.resin + grams.ipa + grams.water, 0) / 1000;
  const amounts: Record<WasteRule['kind'], number> = {
    'month-kg': month.kg,
    'site-kg': siteKg,
    'age-days': Math.max(0, ...inUse.map(({ ageDays }) => ageDays ?? 0)),
    'bench-litres': Math.max(0, ...inUse.map(({ heldMl }) => heldMl / 1000)),
  };
  const thresholds = rules.map((rule) => {
    const amount = amounts[rule.kind];
    return { rule, amount, past: isPast(rule, amount) };
  });
  return { month, siteKg, containers: told, thresholds };
}
