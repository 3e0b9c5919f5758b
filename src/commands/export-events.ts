/** The events themselves, as they stand in the ledger, corrections and all: as NDJSON, or as a table. */
import { eventRow } from '../exchange/cell.ts';
import { EVENT_COLUMNS } from '../exchange/columns.ts';
import { writeCsv } from '../exchange/csv.ts';
import type { LedgerEvent } from '../ledger/event.ts';
import { keyOrder } from '../ledger/line.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { chosenOf, wantedBy } from './export-filter.ts';
import { noteNone } from './export-none.ts';
import type { Exported } from './export-out.ts';

export async function exportNdjson(options: Options, context: Context): Promise<Exported> {
  const { opened, clockMs, events } = await eventsOf(options, context);
  return {
    clockMs,
    text: () => events.map((event) => `${JSON.stringify(inOrder(event))}\n`).join(''),
    data: () => ({ format: 'ndjson', what: 'events', events }),
    ...noteNone(events.length, options, opened),
  };
}

export async function exportEventsCsv(options: Options, context: Context): Promise<Exported> {
  const { opened, clockMs, events } = await eventsOf(options, context);
  const columns = EVENT_COLUMNS.map(({ name }) => name);
  return {
    clockMs,
    text: () => writeCsv(columns, events, eventRow),
    data: () => ({ format: 'csv', what: 'events', columns, events }),
    ...noteNone(events.length, options, opened),
  };
}

async function eventsOf(
  options: Options,
  context: Context,
): Promise<{ opened: Opened; clockMs: number; events: LedgerEvent[] }> {
  const opened = await context.open();
  const chosen = chosenOf(opened.file.events, await wantedBy(options, opened), options);
  return { opened, clockMs: opened.clockMs, events: chosen.map(({ event }) => event) };
}

/** Keys as the ledger writes them. */
function inOrder(event: LedgerEvent): Record<string, unknown> {
  const values = event as unknown as Record<string, unknown>;
  return Object.fromEntries(
    keyOrder(event.what).flatMap((key) => (values[key] === undefined ? [] : [[key, values[key]]])),
  );
}
