/**
 * Tables: on a terminal aligned columns under a light rule; elsewhere tab-separated, one record a line.
 */
import type { Paint } from './paint.ts';
import { fill } from './wrap.ts';

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

/** Blanks between columns; fewer where columns of numbers alone would not fit. */
const GAP = 2;
const TIGHT_GAP = 1;

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
};

/** Aligned columns, no frame; the last one is wrapped where the table would be wider than `width`. */
export async function aligned(table: Table, paint: Paint, width = Number.POSITIVE_INFINITY): Promise<string> {
  const { default: CliTable } = await import('cli-table3');
  const gap = gapOf(table, width);
  const { head, rows, right = [] } = fitted(table, width);
  const drawn = new CliTable({
    head: head.map((cell) => paint.strong(cell)),
    chars: { ...NO_LINES, middle: ' '.repeat(gap) },
    style: { head: [], border: [], 'padding-left': 0, 'padding-right': 0, compact: true },
    colAligns: head.map((_, column) => (right.includes(column) ? 'right' : 'left')),
  });
  drawn.push(...rows.map((row) => [...row]));
  return drawn
    .toString()
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n');
}

/** True where plain cells leave the last column, which can be broken, less than it needs to be read. */
export function isTight({ head, rows }: Table, width: number): boolean {
  const last = head.length - 1;
  const room = Math.min(NARROWEST, widest([head, ...rows], last));
  return widthOf({ head: head.slice(0, last), rows }) + GAP + room > width;
}

/** Bands go below their figures. */
export function withBandsBelow({ rows, ...rest }: Table): Table {
  return { ...rest, rows: rows.map((row) => row.map((cell) => cell.replace(' (', '\n('))) };
}

function widthOf({ head, rows }: Table): number {
  return head.reduce((sum, _, column) => sum + widest([head, ...rows], column), GAP * (head.length - 1));
}

/** A last column of numbers cannot be broken. */
function gapOf(table: Table, width: number): number {
  const { head, right = [] } = table;
  return right.includes(head.length - 1) && widthOf(table) > width ? TIGHT_GAP : GAP;
}

/** Narrower than this a column of words cannot be read. */
const NARROWEST = 16;

function fitted(table: Table, width: number): Table {
  const last = table.head.length - 1;
  const widths = table.head
    .slice(0, last)
    .map((_, column) => widest([table.head, ...table.rows], column) + GAP);
  const room = Math.max(NARROWEST, width - widths.reduce((sum, one) => sum + one, 0));
  if (widest(table.rows, last) <= room) return table;
  const wrapped = (cell: string) =>
    cell
      .split('\n')
      .map((line) => fill(line, room))
      .join('\n');
  return { ...table, rows: table.rows.map((row) => [...row.slice(0, last), wrapped(row[last]!)]) };
}

function widest(rows: readonly (readonly string[])[], column: number): number {
  return Math.max(0, ...rows.flatMap((row) => row[column]!.split('\n').map((line) => line.length)));
}
