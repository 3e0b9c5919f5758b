/** What an import would add to a ledger, worked out while that is locked. */
import { openShop, type Shop } from '../bath/shop.ts';
import { fitIn } from '../exchange/fit.ts';
import { type Fresh, join, type Rejected } from '../exchange/join.ts';
import type { Plan } from '../exchange/plan.ts';
import { type RowEvent, type RowWrong, rowEvent } from '../exchange/row-event.ts';
import type { Rows } from '../exchange/rows.ts';
import { vocabulary } from '../exchange/words.ts';
import { knownNames } from '../ledger/names.ts';
import type { Problem } from '../ledger/problem.ts';
import type { LedgerFile } from '../ledger/read.ts';
import { settle } from '../ledger/settle.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { catalogue } from '../substance/catalogue.ts';
import { rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';

export interface Sheet {
  rows: Rows;
  plan: Plan;
}

export interface Decided {
  shop: Shop;
  clockMs: number;
  fresh: Fresh[];
  present: number;
  /** In the order of their lines. */
  rejected: Rejected[];
  /** New events that may be in the ledger in other words. */
  alike: { line: number; id: string }[];
  /** New events whose row has a day and no time of day. */
  untimed: number;
  /** The baths without and with the new events; null where the ledger is too long to replay twice for a look. */
  change: { before: Status; after: Status } | null;
}

/** Replaying more than so many events twice takes longer than anybody waits for an echo. */
const MOST_SHOWN = 20_000;

/** @returns what would be added, or why nothing can be */
export async function decideImport(
  file: LedgerFile,
  { rows, plan }: Sheet,
  options: Options,
  context: Context,
): Promise<Decided | { stopped: Problem[] }> {
  const header = file.header!;
  const shop = openShop(header);
  context.useShop(shop);
  const clockMs = await context.clockMs();
  const known = knownNames(header, catalogue);
  const style = {
    mark: (options.decimal ?? (plan.own && rows.separator === ',' ? 'point' : undefined)) as
      | 'point'
      | 'comma'
      | undefined,
    dates: options.dateStyle as 'd/m/y' | 'm/d/y' | 'iso' | undefined,
    words: vocabulary(known),
    exact: plan.own || rows.format === 'ndjson',
    guarded: rows.format === 'csv',
    local,
    time: rfc3339,
  };
  const read = rows.rows.map((row) => rowEvent(row, plan, style));
  const twofold = read.filter((one): one is RowWrong => 'inTwoWays' in one);
  if (twofold.length > 0) return { stopped: twofold.map(stopping) };
  const events = read.filter((one): one is RowEvent => 'event' in one);
  const joined = await join(events, { events: file.events, known, clockMs, time: rfc3339 });
  const fitted = await fitIn(joined.fresh, { events: file.events, header, catalogue, shop, clockMs });
  if (fitted.breaks) return { stopped: [fitted.breaks] };
  const wrong = read.filter((one): one is RowWrong => 'message' in one);
  const untimedLines = new Set(events.filter(({ timed }) => !timed).map(({ line }) => line));
  return {
    shop,
    clockMs,
    fresh: fitted.fresh,
    present: joined.present.length,
    rejected: [...wrong.map(unread), ...joined.rejected, ...fitted.rejected].sort((a, b) => a.line - b.line),
    alike: joined.alike.filter(({ line }) => fitted.fresh.some((one) => one.line === line)),
    untimed: fitted.fresh.filter(({ line }) => untimedLines.has(line)).length,
    change:
      fitted.settled.entries.length > MOST_SHOWN
        ? null
        : {
            before: statusOf(shop, (await settle(file.events, clockMs, header, catalogue)).entries, clockMs),
            after: statusOf(shop, fitted.settled.entries, clockMs, { days: localDays }),
          },
  };
}

/** Fields of the shop's wall clock to an instant; undefined where the clock skipped that hour. */
function local(at: Parameters<Parameters<typeof rowEvent>[2]['local']>[0]): number | undefined {
  const date = new Date(at.year, at.month - 1, at.day, at.hour, at.minute, at.second);
  return date.getHours() === at.hour && date.getMinutes() === at.minute ? date.getTime() : undefined;
}

function unread({ line, message, help }: RowWrong): Rejected {
  return { line, code: 'cannot-read', message, help };
}

function stopping({ line, message, help }: RowWrong): Problem {
  return { code: 'in-two-ways', line, message, help, severity: 'error' };
}
