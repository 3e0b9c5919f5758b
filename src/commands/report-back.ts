/** Tells what was written: to people in a few lines, to programs as a document. */

import type { LedgerEvent } from '../ledger/event.ts';
import { adviceText } from '../render/advice.ts';
import { bathDocument, loadsDocument, statesDocument } from '../render/documents.ts';
import type { Line } from '../render/echo.ts';
import { changeLines, labelled, moveLines } from '../render/echo.ts';
import { printable } from '../render/printable.ts';
import { readable, readableWithDay } from './clock.ts';
import type { Context } from './context.ts';
import type { Logged } from './write.ts';

/** Lines above and below the change of the baths. */
export interface Told {
  /** The command, where it is not named like the event it logs. */
  command?: string;
  understood: string;
  /** What is so once it is undone, where that is not plain. */
  undone?: string;
  /** Of a correction of what does not touch the baths: they are not shown. */
  ofRecords?: boolean;
  /** Of several entries, in the place of their ids and time. */
  heading?: string;
  above?: Line[];
  below?: Line[];
  warnings?: string[];
  /** More for the JSON document. */
  data?: Record<string, unknown>;
}

/** Notes to stderr; then the echo, or with `--json` the document, to stdout. */
export function reportBack(context: Context, logged: Logged, told: Told): void {
  const warnings = [...(told.warnings ?? []), ...backDatedNote(logged)];
  for (const warning of warnings) context.note(`Note: ${warning}`);
  if (context.json) {
    context.printJson(told.command ?? logged.event.what, logged.status.clockMs, {
      ...documentOf(logged),
      ...told.data,
      warnings,
    });
  } else if (!context.quiet) {
    context.print(labelled(linesOf(context, logged, told), context));
  }
}

function backDatedNote({ backDated, event, written, aheadMs, status }: Logged): string[] {
  if (aheadMs !== undefined) {
    return [
      `The ledger has events up to ${readable(aheadMs)}, after the clock of this command (${readable(status.clockMs)}), and they do not count yet; look at the clock of the computer`,
    ];
  }
  if (!backDated) return [];
  const record = RECORDS[event.what];
  if (record) return [`The ${event.what} entry lies before others in the ledger; ${record}`];
  return [
    written.length === 1
      ? `The ${event.what} lies before others in the ledger; the baths are shown as they are now, without and with it`
      : `The ${event.what === 'wash' ? 'washes' : `${event.what}s`} lie before others in the ledger; the baths are shown as they are now, without and with them`,
  ];
}

/** From so long on, what stands in between shows in the level. */
const LONG_AGO_MS = 3_600_000;

/** What was logged for an earlier time is shown as it is now; where a note tells that, it is not said twice. */
function nowLine({ before, backDated, event, written, status }: Logged): Line[] {
  const isLongAgo = status.clockMs - Date.parse(event.at) > LONG_AGO_MS;
  const it = written.length === 1 ? 'it' : 'them';
  return before && isLongAgo && !backDated
    ? [['now', `the baths as of now, without ${it} → with ${it}`]]
    : [];
}

/** Entries that move nothing and teach nothing of the baths: what is shown of them where they are back-dated. */
const RECORDS: Partial<Record<LedgerEvent['what'], string>> = {
  stock: 'what is on hand is shown as it is now, with it',
  waste: 'the container is shown as it is now, with it',
  reclaim: 'what is on hand is shown as it is now, with it',
  inspect: 'what is shown of the baths is what they were at the wash',
};

/** Whether an entry moves nothing and teaches nothing of the baths. */
export function isRecord({ what }: LedgerEvent): boolean {
  return what in RECORDS;
}

function linesOf(context: Context, logged: Logged, told: Told): Line[] {
  const { written, status, shop, step, before } = logged;
  // What was logged for an earlier time is told by what it makes of the baths now, as the verdict is.
  const from = before?.replayed.baths ?? step?.before;
  const to = before ? status.replayed.baths : (step?.after ?? status.replayed.baths);
  const view = { shop, estimates: status.estimates, was: before?.estimates, paint: context.paint };
  return [
    [
      logged.dryRun ? 'would log' : 'logged',
      told.heading ??
        `${written.map((one) => context.paint.strong(one.event.id)).join(', ')} at ${timeOf(logged)}`,
    ],
    ...(told.understood === '' ? [] : [['', printable(told.understood)] as const]),
    ...(told.above ?? []),
    ...(step?.move ? moveLines(step.move) : []),
    ...(told.ofRecords ? [] : nowLine(logged)),
    ...(from && !told.ofRecords ? changeLines(from, to, view) : []),
    ...(told.below ?? []),
    ...adviceLine(logged, told),
    ...(logged.dryRun ? [DRY_RUN] : undoLines(context, logged)),
    ...(told.undone === undefined || logged.dryRun ? [] : [['', printable(told.undone)] as const]),
  ];
}

/** With weekday and zone where it was not typed in full, so that a misunderstanding shows. */
function timeOf({ event, timeInWords }: Logged): string {
  const ms = Date.parse(event.at);
  return timeInWords ? `${readableWithDay(ms)} (UTC${event.at.slice(19)})` : readable(ms);
}

const DRY_RUN: Line = ['', 'dry run, nothing was written'];

/** So many commands one may type one after the other. */
const MOST_UNDOS = 3;
/** So many a line to copy may name. */
const MOST_NAMED = 40;

function undoLines(context: Context, logged: Logged): Line[] {
  const { written } = logged;
  if (written.length > MOST_NAMED) {
    const last = context.hint(`bathbook undo ${written.at(-1)!.event.id}`);
    return [['to undo', `${last}, then each one above it`]];
  }
  if (written.length > MOST_UNDOS) {
    const ids = written.map(({ event }) => event.id).join(' ');
    return [['to undo', context.hint(`bathbook undo ${ids}`)]];
  }
  return undoing(logged).map((command, nth) => [nth === 0 ? 'to undo' : '', context.hint(command)]);
}

/** Last line first, so that each cuts off the last line of the ledger. */
function undoing({ written }: Logged): string[] {
  return written.map(({ event }) => `bathbook undo ${event.id}`).reverse();
}

/** Left out where it would only repeat the loads left, and below a record, which is not about the baths. */
function adviceLine({ event, status }: Logged, told: Told): Line[] {
  if (isRecord(event) || told.ofRecords) return [];
  const repeats = status.advice.action === 'nothing' && told.below?.some(([label]) => label === 'loads left');
  return repeats ? [] : [['advice', adviceText(status.advice, status.estimates)]];
}

function documentOf(logged: Logged): Record<string, unknown> {
  const { event, step, shop, status, before } = logged;
  const was = step?.before ?? before?.replayed.baths;
  return {
    event,
    line: logged.line,
    ledger: logged.path,
    dry_run: logged.dryRun,
    back_dated: logged.backDated,
    ...(was ? { before: statesDocument(was, shop) } : {}),
    after: statesDocument(step?.after ?? status.replayed.baths, shop),
    ...(step?.move
      ? { poured_ml: step.move.pouredMl, waste_ml: step.move.wasteMl, waste_g: step.move.waste }
      : {}),
    baths: status.estimates.map(bathDocument),
    loads_left: loadsDocument(status.left),
    advice: { action: status.advice.action, text: adviceText(status.advice, status.estimates) },
    undo: undoing(logged).join(' && '),
  };
}
