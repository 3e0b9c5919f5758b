/**
 * Tables: on a terminal aligned columns under a light rule; elsewhere tab-separated, one record a line.
 */
import type { Paint } from './paint.ts';

export interface Table {
  head: readonly string[];
  rows: readonly (readonly string[])[];
  /** Columns set to the right, as numbers are. */
  right?: readonly number[];
}

/** Tab-separated with a head line; blanks and breaks inside a cell become one blank. */
export function tabSeparated({ head, rows }: Table): string {
  return [head, ...rows].map((row) => row.map((cell) => cell.replaceAll(/\s+/g, ' ')).join('\t')).join('\n');
}

const NO_LINES = {
  top: '',
  'top-mid': '',
  'top-left': '',
  'top-right': '',
  bottom: '',
  'bottom-mid': '',
  'bottom-left': '',
  'bottom-right': '',
  left: '',
  'left-mid': '',
  right: '',
  'right-mid': '',
  mid: '',
  'mid-mid': '',
  middle: '  ',
};

/** Aligned columns, no frame. The table library is loaded only here. */
export async function aligned({ head, rows, right = [] }: Table, paint: Paint): Promise<string> {
  const { default: CliTable } = await import('cli-table3');
  const table = new CliTable({
    head: head.map((cell) => paint.strong(cell)),
    chars: NO_LINES,
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
    colAligns: head.map((_, column) => (right.includes(column) ? 'right' : 'left')),
  });
  table.push(...rows.map((row) => [...row]));
  return table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n');
}
