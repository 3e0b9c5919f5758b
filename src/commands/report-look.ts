/** One look at a ledger for a report: its period, what happened in it, how it is to be shown, up to where the next goes on from. */
import { resolve } from 'node:path';
import type { Report } from '../records/report.ts';
import type { Period } from '../records/report-period.ts';
import type { Charts } from '../render/html/charts.ts';
import { painter } from '../render/paint.ts';
import type { PeriodWhy, ReportView } from '../render/report-view.ts';
import { readableDay, readableWithDay, rfc3339 } from './clock.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { refuseLedger } from './out-is-ledger.ts';
import { reportAt } from './report-at.ts';
import { momentBefore, readableMonth } from './report-clock.ts';
import { keepReport, lastReport, type Place } from './report-mark.ts';
import { VERSION } from './version.ts';
import { readWhen } from './when.ts';

/** Where a report goes. */
export interface Going {
  format: string;
  /** The file; undefined: printed. */
  out: string | undefined;
}

export interface ReportLooked {
  opened: Opened;
  report: Report;
  charts: Charts | null;
  why: PeriodWhy;
  place: Place;
}

const DAY_MS = 86_400_000;

/** @throws Fault when the ledger cannot be read, or the period is none */
export async function lookReport(options: Options, context: Context, going: Going): Promise<ReportLooked> {
  const { format, out } = going;
  const opened = await context.open();
  refuseLedger(out, [opened.path]);
  const goesTo = out === undefined ? `output ${format}` : resolve(out);
  const place: Place = { ledger: opened.path, goesTo, env: process.env };
  const { period, why } = await periodOf(options, opened.clockMs, place);
  return { opened, why, place, ...(await reportAt(opened, period, format === 'html')) };
}

/** @throws Fault, usage, for a period that is none */
async function periodOf(
  options: Options,
  clockMs: number,
  place: Place,
): Promise<{ period: Period; why: PeriodWhy }> {
  const read = async (text: Options[string]) =>
    typeof text === 'string' ? readWhen(text, clockMs, 'starts') : undefined;
  const [from, to] = [await read(options.from), await read(options.to)];
  const toMs = to ?? clockMs;
  if (toMs > clockMs)
    throw usage(
      `Cannot report up to ${readableWithDay(toMs)}, that is still to come`,
      'leave out --to for now',
    );
  if (from !== undefined && from >= toMs)
    throw usage(
      `Cannot report from ${readableWithDay(from)} to ${readableWithDay(toMs)}, that is no time`,
      'give a --from before the --to',
    );
  if (from !== undefined || to !== undefined)
    return { period: { fromMs: from ?? toMs - DAY_MS, toMs }, why: 'given' };
  const last = lastReport(place);
  if (typeof last === 'number' && last < toMs)
    return { period: { fromMs: last, toMs }, why: 'since-last-report' };
  const why = last === undefined ? 'last-24-h-unkept' : 'last-24-h';
  return { period: { fromMs: toMs - DAY_MS, toMs }, why };
}

export function viewOf(looked: ReportLooked, context: Context, { out }: Going): ReportView {
  const { report, charts, opened, why } = looked;
  return {
    charts,
    width: context.width,
    paint: paintOf(context, out),
    ledger: opened.path,
    version: VERSION,
    why,
    clockMs: opened.clockMs,
    time: rfc3339,
    when: readableWithDay,
    moment: momentBefore(report.period.toMs),
    day: readableDay,
    month: readableMonth,
  };
}

/** A file is never coloured. */
export function paintOf(context: Context, out: string | undefined): Context['paint'] {
  return out === undefined ? context.paint : painter({ choice: 'never', env: {}, stream: {} });
}

/** Keeps up to where it went; a look on a terminal is no report that the next one goes on from. */
export function keepMark({ why, place, report }: ReportLooked, context: Context, { out }: Going): void {
  if (why === 'given' || (out === undefined && context.onTerminal)) return;
  const trouble = keepReport(place, rfc3339(report.period.toMs));
  if (trouble) context.note(trouble);
}
