/** A table for other programs: named columns, values in base units. */
import { cellOf, type Value } from './cell.ts';
import { writeCsv } from './csv.ts';

export interface ExchangeTable {
  columns: string[];
  rows: Record<string, Value>[];
}

/** An estimate to six figures, which is more than any is good for; the same in every format. */
export function estimate(value: number | null | undefined): number | null {
  return value === null || value === undefined || !Number.isFinite(value)
    ? null
    : Number(value.toPrecision(6));
}

/** As CSV; what a row does not have is an empty cell. */
export async function tableCsv({ columns, rows }: ExchangeTable): Promise<string> {
  return writeCsv(columns, rows, (row) => columns.map((name) => cellOf(row[name])));
}
