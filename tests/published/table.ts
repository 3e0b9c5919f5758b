/** Tables of published figures, as the tests read them. */
import { readFileSync } from 'node:fs';

export type Row = Record<string, string>;

/** Rows of a CSV file of this folder by their column names; RFC 4180 quotes, no line breaks inside a field. */
export function readTable(name: string): Row[] {
  const [head, ...lines] = readFileSync(new URL(name, import.meta.url), 'utf8')
    .trim()
    .split(/\r?\n/);
  const columns = fields(head!);
  return lines.map((line) => {
    const values = fields(line);
    if (values.length !== columns.length) throw new Error(`${name}: ${values.length} fields in "${line}"`);
    return Object.fromEntries(columns.map((column, at) => [column, values[at]!]));
  });
}

function fields(line: string): string[] {
  return [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map(
    ([, quoted, plain]) => quoted?.replaceAll('""', '"') ?? plain ?? '',
  );
}

/** How many rows each value of `column` has. */
export function countBy(rows: readonly Row[], column: string): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const row of rows) counts[row[column]!] = (counts[row[column]!] ?? 0) + 1;
  return counts;
}

/** Numbers of a text like `V1=1000; Dr=3/2; D1=1 3 1/2`, a list for each name. */
export function readNumbers(text: string): Record<string, number[]> {
  const found: Record<string, number[]> = {};
  for (const part of text.split(';')) {
    const names = part.split('=').slice(0, -1);
    const values = part.split('=').at(-1)!.trim().split(/\s+/).map(fraction).filter(Number.isFinite);
    for (const name of names) found[name.trim()] = values;
  }
  return found;
}

function fraction(text: string): number {
  const [over, under] = text.split('/');
  return under === undefined ? Number(over) : Number(over) / Number(under);
}

/** How far `actual` lies from `wanted`, relative to `wanted`. */
export function gap(actual: number, wanted: number): number {
  return Math.abs(actual - wanted) / Math.abs(wanted);
}
