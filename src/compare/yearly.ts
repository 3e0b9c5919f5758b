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
 * What all drawn worlds used for all their washes, times the washes of a year; the band of the cost is over the worlds.
 */
export function yearlyOf(part: Part, prices: Prices, perWeek: number): Yearly {
  const washesAYear = perWeek * WEEKS_A_YEAR;
  const rows = part.rows.filter((row) => row.washes > 0);
  const washed = sum(rows.map((row) => row.washes));
  const yearly = (of: (row: Row) => number) => (sum(rows.map(of)) / washed) * washesAYear;
  const litres = yearly(({ pouredMl }) => pouredMl / 1000);
  const changes = yearly((row) => row.changes);
  const parts = yearly((row) => row.parts);
  const costOf = (row: Row) => costOfRow(row, prices);
  const known = prices.perLitre !== undefined && rows.length > 0;
  const cost = known ? yearly(costOf) : null;
  const costs = rows.map((row) => (costOf(row) / row.washes) * washesAYear);
  return {
    litres,
    cost,
    costBand: known ? { p05: ranked(costs, 0.05), p95: ranked(costs, 0.95) } : null,
    costPerPart: cost === null || !(parts > 0) ? null : cost / parts,
    wasteKg: yearly(({ wasteG }) => wasteG / 1000),
    wasteLitres: yearly(({ wasteMl }) => wasteMl / 1000),
    changes,
    washesBetweenChanges: changes > 0 ? washesAYear / changes : null,
    overLimitShare: sum(rows.map((row) => row.overLimit)) / washed,
    lastBathWtPctP95: quantileOf(part.lastBath, 0.95),
    residueUgPerCm2P95: quantileOf(part.residue, 0.95),
  };
}

function costOfRow(row: Row, { perLitre = 0, disposalPerLitre, perChange }: Prices): number {
  return (row.pouredMl * perLitre + row.wasteMl * disposalPerLitre) / 1000 + row.changes * perChange;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, one) => total + one, 0);
}

/** The value below which a share of them lies. */
function ranked(values: readonly number[], share: number): number {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}
