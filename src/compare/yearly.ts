/**
 * What a habit costs a year: README.md 3.
 */
import type { Part, Row } from './part.ts';
import { quantileOf } from './spread.ts';

/** Prices in the shop's currency. */
export interface Prices {
  /** Of solvent; undefined when not known. */
  perLitre?: number;
  /** Of taking a litre of waste away. */
  disposalPerLitre: number;
  /** Of the work of one change. */
  perChange: number;
}

export interface Yearly {
  litres: number;
  /** Null where the price of the solvent is not known. */
  cost: number | null;
  /** Over the drawn worlds. */
  costBand: { p05: number; p95: number } | null;
  costPerPart: number | null;
  wasteKg: number;
  wasteLitres: number;
  changes: number;
  /** Null where nothing was changed. */
  washesBetweenChanges: number | null;
  /** Of the washes, those that began with a bath past its limit. */
  overLimitShare: number;
  lastBathWtPctP95: number;
  residueUgPerCm2P95: number;
}

export const WEEKS_A_YEAR = 365.25 / 7;

/**
 * The mean over the drawn worlds. Each counts what it used for each wash, times the washes of a year.
 */
export function yearlyOf(part: Part, prices: Prices, perWeek: number): Yearly {
  const washes = perWeek * WEEKS_A_YEAR;
  const rows = part.rows.filter((row) => row.washes > 0);
  const yearly = (of: (row: Row) => number) => rows.map((row) => (of(row) / row.washes) * washes);
  const litres = yearly(({ pouredMl }) => pouredMl / 1000);
  const wasteLitres = yearly(({ wasteMl }) => wasteMl / 1000);
  const changes = yearly((row) => row.changes);
  const parts = mean(yearly((row) => row.parts));
  const { perLitre, disposalPerLitre, perChange } = prices;
  const costs = litres.map(
    (one, at) => one * (perLitre ?? 0) + wasteLitres[at]! * disposalPerLitre + changes[at]! * perChange,
  );
  const cost = perLitre === undefined ? null : mean(costs);
  return {
    litres: mean(litres),
    cost,
    costBand: cost === null ? null : { p05: ranked(costs, 0.05), p95: ranked(costs, 0.95) },
    costPerPart: cost === null || !(parts > 0) ? null : cost / parts,
    wasteKg: mean(yearly(({ wasteG }) => wasteG / 1000)),
    wasteLitres: mean(wasteLitres),
    changes: mean(changes),
    washesBetweenChanges: mean(changes) > 0 ? washes / mean(changes) : null,
    overLimitShare: sum(rows.map((row) => row.overLimit)) / sum(rows.map((row) => row.washes)),
    lastBathWtPctP95: quantileOf(part.lastBath, 0.95),
    residueUgPerCm2P95: quantileOf(part.residue, 0.95),
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, one) => total + one, 0);
}

function mean(values: readonly number[]): number {
  return sum(values) / values.length;
}

/** The value below which a share of them lies. */
function ranked(values: readonly number[], share: number): number {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}
