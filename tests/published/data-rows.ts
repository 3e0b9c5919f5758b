/** The published tables of data/, as the tests read them: rows by column names. */
import { type Row, readTable } from './table.ts';

export function dataRows(file: string): Row[] {
  return readTable(`../../data/${file}`);
}
