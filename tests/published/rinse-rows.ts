/** Rows of rinse.csv, and how an answer is held against one. */
import { expect } from 'vitest';
import { gap, type Row, readTable } from './table.ts';

export const rows = readTable('rinse.csv');

export const numberOf = (row: Row) => Number(row.id!.replace('rinse-', ''));
/** Rows with these numbers, and a check that they are the ones meant. */
export function pick(from: number, to: number, topic: string): Row[] {
  const picked = rows.filter((row) => numberOf(row) >= from && numberOf(row) <= to);
  expect(picked.length).toBe(to - from + 1);
  for (const row of picked) expect(row.topic).toBe(topic);
  return picked;
}

export function within(row: Row, actual: number): void {
  const wanted = Number(row.expected);
  const [kind, amount] = row.tolerance!.split(' ');
  const label = `${row.id}: ${row.inputs}: ${actual} against ${row.expected}`;
  switch (kind) {
    case 'exact':
      expect(actual, label).toBe(wanted);
      break;
    case 'rel':
      expect(gap(actual, wanted), label).toBeLessThanOrEqual(Number(amount));
      break;
    case 'abs':
      expect(Math.abs(actual - wanted), label).toBeLessThanOrEqual(Number(amount));
      break;
    default:
      throw new Error(`${row.id}: tolerance ${row.tolerance}`);
  }
}
