/** `export csv`: events, states or washes as a table. */
import { statesTable } from '../exchange/states-table.ts';
import { type ExchangeTable, tableCsv } from '../exchange/table.ts';
import { washesTable } from '../exchange/washes-table.ts';
import { MODEL_VERSION } from '../render/json.ts';
import { rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { exportEventsCsv } from './export-events.ts';
import { wantedBy } from './export-filter.ts';
import { noteNone } from './export-none.ts';
import type { Exported } from './export-out.ts';
import { usage } from './fault.ts';
import { tellRefused } from './tell.ts';
import { VERSION } from './version.ts';

export async function exportCsv(options: Options, context: Context): Promise<Exported> {
  const what = (options.what as string | undefined) ?? 'events';
  if (options.bands === true && what === 'events')
    throw usage('Cannot use --bands with events', 'leave it out, or add --what washes or --what states');
  if (what === 'events') return exportEventsCsv(options, context);
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const wanted = await wantedBy(options, opened);
  const on = {
    clockMs,
    bands: options.bands === true,
    wanted: ({ event, atMs }: (typeof settled.entries)[number]) => wanted(event, atMs),
  };
  const { table, refused } =
    what === 'states'
      ? statesTable(shop, settled.entries, on)
      : washesTable(shop, settled.entries, {
          ...on,
          time: rfc3339,
          versions: { program: `bathbook ${VERSION}`, model: MODEL_VERSION },
        });
  await tellRefused(context, opened, refused);
  return {
    clockMs,
    text: () => tableCsv(table),
    data: () => tableData('csv', what, table),
    ...noteNone(table.rows.length, options, opened),
  };
}

/** Cells that a row does not have are null. */
export function tableData(
  format: string,
  what: string,
  { columns, rows }: ExchangeTable,
): Record<string, unknown> {
  const full = rows.map((row) => Object.fromEntries(columns.map((name) => [name, row[name] ?? null])));
  return { format, what, columns, rows: full };
}
