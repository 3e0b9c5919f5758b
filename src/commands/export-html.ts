/** `export html`: the records of washes as a page to print and file. */
import { readFileSync } from 'node:fs';
import { amendsOf, eventsById, takenBackOf } from '../exchange/wash-history.ts';
import { type WashRecord, washRecords } from '../exchange/wash-records.ts';
import { washColumns, washRow } from '../exchange/washes-table.ts';
import { recordPage } from '../render/html/record.ts';
import { MODEL_VERSION } from '../render/json.ts';
import { readable, readableWithDay, rfc3339 } from './clock.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { tableData } from './export-csv.ts';
import { timesOf, wantedBy } from './export-filter.ts';
import { noteNone, refuseUnknown } from './export-none.ts';
import type { Exported } from './export-out.ts';
import { usage } from './fault.ts';
import { tellRefused } from './tell.ts';
import { VERSION } from './version.ts';

/** A page that a browser still lays out in a moment; nobody prints more at once. */
const MOST_WASHES = 1000;

const VERSIONS = { program: `bathbook ${VERSION}`, model: MODEL_VERSION };

export async function exportHtml(options: Options, context: Context): Promise<Exported> {
  const { what = 'washes' } = options;
  if (what !== 'washes')
    throw usage(`Cannot export ${what} as html`, 'leave out --what, or use csv; html is for washes');
  const opened = await context.open();
  const { shop, settled, clockMs, file } = opened;
  const wanted = await wantedBy(options, opened);
  const isWanted = ({ event, atMs }: (typeof settled.entries)[number]) =>
    event.what === 'wash' && wanted(event, atMs);
  refuseUnknown(options, opened);
  refuseMany(settled.entries.filter(isWanted).length);
  const records: WashRecord[] = [];
  const refused = washRecords(shop, settled.entries, { clockMs, wanted: isWanted, bands: true }, (one) =>
    records.push(one),
  );
  await tellRefused(context, opened, refused);
  const asked = await askedOf(options, clockMs);
  const text = async () => {
    const byId = eventsById(file.events);
    return recordPage(
      records.map((record) => ({ record, amended: amendsOf(record.entry, byId) })),
      {
        shop,
        asked,
        clockMs,
        when: (ms) => `${readableWithDay(ms)} ${rfc3339(ms).slice(-6)}`,
        time: rfc3339,
        versions: VERSIONS,
        ledger: { path: opened.path, sha256: await digestOf(opened) },
        takenBack: takenBackOf(byId, settled.voided, wanted),
        refused: refused.filter(({ entry }) => isWanted(entry)),
        refusedInAll: refused.length,
      },
    );
  };
  return {
    clockMs,
    text,
    data: () => documentOf(records, opened),
    ...noteNone(records.length, { ...options, what }, opened),
  };
}

function refuseMany(count: number): void {
  if (count <= MOST_WASHES) return;
  throw usage(
    `Cannot put ${count} washes on one page, at most ${MOST_WASHES}`,
    'narrow it with --case, --lot, --by, --from or --to, or use csv',
  );
}

/** The same rows as those of csv with bands. */
function documentOf(records: readonly WashRecord[], { shop, clockMs }: Opened): Record<string, unknown> {
  const told = { bands: true, clockMs, time: rfc3339, versions: VERSIONS };
  const rows = records.map((record) => washRow(record, shop, told));
  return tableData('html', 'washes', { columns: washColumns(shop, true), rows });
}

/** What was asked for, as the page says it. */
async function askedOf(options: Options, clockMs: number): Promise<string[]> {
  const { fromMs, toMs } = await timesOf(options, clockMs);
  return [
    ...(['case', 'lot'] as const).flatMap((name) =>
      options[name] === undefined ? [] : [`${name} ${String(options[name])}`],
    ),
    ...(options.by === undefined ? [] : [`washed by ${String(options.by)}`]),
    ...(Number.isFinite(fromMs) ? [`from ${readable(fromMs)}`] : []),
    ...(Number.isFinite(toMs) ? [`before ${readable(toMs)}`] : []),
  ];
}

/** SHA-256 of the file; null when it is no longer what was read. Loaded here, it costs every start otherwise. */
async function digestOf({ path, file }: Opened): Promise<string | null> {
  const { createHash } = await import('node:crypto');
  const bytes = readFileSync(path);
  const text = bytes.toString('utf8').replace(/^\ufeff/, '');
  return text.startsWith(file.text) ? createHash('sha256').update(bytes).digest('hex') : null;
}
