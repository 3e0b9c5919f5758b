/** One row of an imported file as an event that is still to be checked. */
import { parseTime } from '../ledger/time.ts';
import type { Column } from './columns.ts';
import { type DateStyle, type LocalTime, readDate } from './dates.ts';
import { unguarded } from './guard.ts';
import type { Plan } from './plan.ts';
import type { Row } from './rows.ts';
import { type CellStyle, readCell } from './values.ts';
import { wordAmong } from './words.ts';

export interface RowStyle extends CellStyle {
  /** Text that looks like a formula has an apostrophe before it, as in a table. */
  guarded: boolean;
  /** Undefined where nobody said. */
  dates: DateStyle | undefined;
  local: LocalTime;
  /** An instant as a ledger writes it, in the shop's zone. */
  time(ms: number): string;
}

export interface RowEvent {
  line: number;
  /** Keys of an event; `id` only where the file has one. */
  event: Record<string, unknown>;
  /** False when the row has a day and no time of day. */
  timed: boolean;
}

export interface RowWrong {
  line: number;
  message: string;
  help: string;
  /** It could be read, were it only known how the file writes dates or decimals. */
  inTwoWays?: true;
}

/** What a spreadsheet makes of an id like 23e45, which it takes for a number. */
const LOST_ID = /^\d+(?:[.,]\d+)?E\+\d+$/;

type Found = { wrong: Omit<RowWrong, 'line'> } | { timed: boolean };

/** The event of a row. What is blank is left out; what a JSON line holds in its own type is taken as it is. */
export function rowEvent(row: Row, plan: Plan, style: RowStyle): RowEvent | RowWrong {
  const { line, wrong } = row;
  if (wrong) return { line, ...wrong };
  const event: Record<string, unknown> = {};
  for (const source of plan.sources) {
    const cell = row.cells[source.place];
    // Most cells of a wide table.
    if (cell === '' || cell === undefined) continue;
    const told = put(event, source, cell, style);
    if (told) return { line, ...told };
  }
  for (const { column, part, text } of plan.constants) {
    if (part === undefined ? event[column.name] === undefined : partOf(event, part, style) === undefined) {
      const told = put(event, { column, part }, text, style);
      if (told) return { line, ...told };
    }
  }
  event.what ??= 'wash';
  if (typeof event.id === 'string' && LOST_ID.test(event.id)) delete event.id;
  const found = timeOf(event, row, plan, style);
  return 'wrong' in found ? { line, ...found.wrong } : { line, event, timed: found.timed };
}

interface Target {
  column: Column;
  part?: string | undefined;
  unit?: string | undefined;
}

/** Puts one cell into the event; what is wrong with it, if it is. */
function put(
  event: Record<string, unknown>,
  { column, part, unit }: Target,
  cell: unknown,
  style: RowStyle,
): Omit<RowWrong, 'line'> | undefined {
  if (cell === undefined || cell === null) return undefined;
  const text = typeof cell === 'string' ? (style.guarded ? unguarded(cell) : cell) : undefined;
  if (text !== undefined && (style.exact ? text === '' : text.trim() === '')) return undefined;
  if (part !== undefined) return putPart(event, part, cell, style);
  if (text === undefined) {
    event[column.name] = cell;
    return undefined;
  }
  const read = readCell(text, column, style, unit);
  if ('message' in read) return read;
  place(event, column, read.value);
  return undefined;
}

function place(event: Record<string, unknown>, { name, kind, path }: Column, value: unknown): void {
  const before = event[name];
  if (path) event[path[0]] = { ...(event[path[0]] as object | undefined), [path[1]]: value };
  else if (kind === 'numbers' && before !== undefined) event[name] = [before, value].flat();
  else if (kind === 'numbers') event[name] = Array.isArray(value) ? value : [value];
  else if (kind === 'texts' && before !== undefined) event[name] = [before, value].flat();
  else event[name] = value;
}

/** The count of one part; none of it is left out. */
function putPart(
  event: Record<string, unknown>,
  part: string,
  cell: unknown,
  style: CellStyle,
): Omit<RowWrong, 'line'> | undefined {
  const column: Column = { name: 'parts', kind: 'number' };
  const read = typeof cell === 'string' ? readCell(cell, column, style) : { value: cell };
  if ('message' in read) return read;
  if (read.value === 0) return undefined;
  const parts = new Map(Object.entries((event.parts as Record<string, unknown> | undefined) ?? {}));
  const name = wordAmong(part, style.words.get('parts'));
  parts.set(name, Number(read.value) + Number(parts.get(name) ?? 0));
  event.parts = Object.fromEntries(parts);
  return undefined;
}

function partOf(event: Record<string, unknown>, part: string, style: CellStyle): unknown {
  return (event.parts as Record<string, unknown> | undefined)?.[wordAmong(part, style.words.get('parts'))];
}

/** Puts `at` and `logged` right; from cells of their own where the file has a date and a time of day. */
function timeOf(event: Record<string, unknown>, row: Row, plan: Plan, style: RowStyle): Found {
  const clock = plan.time === undefined ? undefined : String(row.cells[plan.time] ?? '');
  const typed = plan.date === undefined ? event.at : row.cells[plan.date];
  const at = read(typed, style, clock);
  if ('wrong' in at) return at;
  event.at = at.text;
  if (event.logged === undefined) return { timed: at.timed };
  const logged = read(event.logged, style);
  if ('wrong' in logged) return logged;
  event.logged = logged.text;
  return { timed: at.timed };
}

function read(
  typed: unknown,
  style: RowStyle,
  clock?: string,
): { text: string; timed: boolean } | { wrong: Omit<RowWrong, 'line'> } {
  if (typed === undefined || String(typed).trim() === '')
    return { wrong: { message: 'Cannot tell when it happened, the cell is empty', help: 'write the date' } };
  const text = String(typed).trim();
  if (clock === undefined && !Number.isNaN(parseTime(text))) return { text, timed: true };
  const found = readDate(text, { style: style.dates, local: style.local, clock });
  if ('ms' in found) return { text: style.time(found.ms), timed: found.timed };
  if ('message' in found) return { wrong: found };
  return {
    wrong: {
      message: `Cannot tell what day "${text}" is, ${found.either[0]} or ${found.either[1]}`,
      help: 'say how the dates are written: --date-style d/m/y or --date-style m/d/y',
      inTwoWays: true,
    },
  };
}
