/** What an imported file holds, whatever its format: rows of values under the names of columns. */
import { readCsv, type SheetProblem } from './csv.ts';

export interface Rows {
  format: 'csv' | 'ndjson';
  /** Of a CSV file. */
  separator?: string;
  /** As they stand in the file, in its order. */
  columns: string[];
  rows: Row[];
}

export interface Row {
  /** Line of the file, from 1. */
  line: number;
  /** In the order of the columns. Text from a CSV file, any JSON value from a line of NDJSON. */
  cells: readonly unknown[];
  /** Why this line is no row. */
  wrong?: { message: string; help: string };
}

/** Rows of a text; `format` where it is known from the name of the file, else the text itself tells. */
export async function readRows(text: string, format?: 'csv' | 'ndjson'): Promise<Rows | SheetProblem> {
  const isJson = format === 'ndjson' || (format === undefined && /^\s*\{/.test(text));
  if (isJson) return jsonRows(text);
  if (/^\s*(?:#.*\n\s*)*format: *bathbook\//.test(text)) return isLedger();
  const sheet = await readCsv(text);
  if ('message' in sheet) return sheet;
  const { head, separator, rows } = sheet;
  return {
    format: 'csv',
    separator,
    columns: head.map((one) => one.trim()),
    rows: rows.map(({ line, cells }) =>
      cells.length > head.length && cells.slice(head.length).some((cell) => cell.trim() !== '')
        ? { line, cells, wrong: tooManyCells(cells.length, head.length) }
        : { line, cells },
    ),
  };
}

/** One JSON object a line; lines without anything are left out. */
function jsonRows(text: string): Rows {
  const places = new Map<string, number>();
  const rows: Row[] = [];
  let line = 0;
  for (const one of text.split('\n')) {
    line += 1;
    if (one.trim() !== '') rows.push(jsonRow(one, line, places));
  }
  return { format: 'ndjson', columns: [...places.keys()], rows };
}

function jsonRow(text: string, line: number, places: Map<string, number>): Row {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    value = undefined;
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    const help = 'write one event a line, like {"at": "2026-11-20T17:30:00-04:00", "what": "wash", …}';
    return { line, cells: [], wrong: { message: 'Cannot read this line as a JSON object', help } };
  }
  const cells: unknown[] = [];
  for (const [key, inner] of Object.entries(value)) {
    const place = places.get(key) ?? places.size;
    places.set(key, place);
    cells[place] = inner;
  }
  return { line, cells };
}

function tooManyCells(cells: number, columns: number): { message: string; help: string } {
  return {
    message: `Cannot place ${cells} cells under ${columns} columns`,
    help: 'put a cell that holds the separator in double quotes',
  };
}

function isLedger(): SheetProblem {
  return {
    message: 'Cannot import a ledger as it is',
    help: 'export its events first: bathbook export ndjson --ledger FILE --out events.ndjson',
  };
}
