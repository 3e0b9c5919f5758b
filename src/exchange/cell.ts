/** An event as cells of a table, each as its column wants it; `reading` a row turns them back. */
import type { LedgerEvent } from '../ledger/event.ts';
import { plainDecimal } from '../ledger/plain-decimal.ts';
import { type Column, EVENT_COLUMNS } from './columns.ts';
import { guarded } from './guard.ts';

/** What a cell can hold before it is text; nothing is an empty cell. */
export type Value = string | number | boolean | readonly unknown[] | object | null | undefined;

/** The row of one event, in the order of the columns. */
export function eventRow(event: LedgerEvent): string[] {
  const values = event as unknown as Record<string, Value>;
  return EVENT_COLUMNS.map((column) => {
    const value = valueAt(values, column);
    return column.kind === 'map' && value !== undefined ? JSON.stringify(value) : cellOf(value);
  });
}

function valueAt(values: Record<string, Value>, { name, path }: Column): Value {
  if (!path) return values[name];
  return (values[path[0]] as Record<string, Value> | undefined)?.[path[1]];
}

/**
 * A value as text. Numbers are plain decimals with a point; a list is joined by semicolons, counts by name are written
 * `6 model; 2 mask`, anything that this could not be read back from as JSON. Only text can be a formula and is guarded.
 */
export function cellOf(value: Value): string {
  if (value === undefined || value === null) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? plainDecimal(value) : '';
  if (typeof value === 'boolean') return String(value);
  if (typeof value === 'string') return guarded(value);
  return guarded(Array.isArray(value) ? listCell(value) : mapCell(value as Record<string, unknown>));
}

function listCell(list: readonly unknown[]): string {
  const simple = list.every((one) => typeof one === 'number' || (typeof one === 'string' && isSimple(one)));
  return simple && list.length > 0
    ? list.map((one) => (typeof one === 'number' ? plainDecimal(one) : one)).join('; ')
    : JSON.stringify(list);
}

/** Nothing in it that parts a list, and nothing that is lost around it. */
function isSimple(text: string): boolean {
  return text !== '' && text === text.trim() && !/[;,"\r\n]/.test(text) && !/^[[{]/.test(text);
}

function mapCell(map: Record<string, unknown>): string {
  const counts = Object.entries(map);
  const simple = counts.every(
    ([name, count]) => Number.isInteger(count) && /^[a-z][a-z0-9_-]*$/.test(name) && name !== 'x',
  );
  return simple && counts.length > 0
    ? counts.map(([name, count]) => `${String(count)} ${name}`).join('; ')
    : JSON.stringify(map);
}
