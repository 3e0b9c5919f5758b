import { extname, resolve } from 'node:path';
import { dueOf } from '../outlook/due.ts';
import { type Report, reportOf } from '../records/report.ts';
import { changesOf } from '../records/report-changes.ts';
import type { Period } from '../records/report-period.ts';
import { washesOf } from '../records/report-washes.ts';
import { type WasteReported, wasteReported } from '../records/report-waste.ts';
import { stockOf } from '../records/stock.ts';
import { wasteOf } from '../records/waste.ts';
import type { Charts } from '../render/html/charts.ts';
import { painter } from '../render/paint.ts';
import type { PeriodWhy, ReportFormat, ReportView } from '../render/report-view.ts';
import { type Ahead, aheadOf, lookAhead } from './ahead.ts';
import { readableDay, readableWithDay, rfc3339 } from './clock.ts';
import type { Context, Opened } from './context.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';
import { DUE_SETTINGS, isJudged } from './due.ts';
import { EXIT, usage } from './fault.ts';
import { momentBefore, monthStarts, readableMonth } from './report-clock.ts';
import { keepReport, lastReport, type Place } from './report-mark.ts';
import { peroxideTests } from './stock-items.ts';
import { tellRefused } from './tell.ts';
import { VERSION } from './version.ts';
import { readWhen } from './when.ts';
import { writeWhole } from './write-whole.ts';

/** The renderer of each format; a new one is a file and a line here. */
const FORMATS: Record<string, () => Promise<ReportFormat>> = {
  text: async () => (await import('../render/report-text.ts')).reportText,
  markdown: async () => (await import('../render/report-markdown.ts')).reportMarkdown,
  html: async () => (await import('../render/report-html.ts')).reportHtml,
  json: async () => (await import('../render/report-json.ts')).reportJson,
};

const FORMAT_OF: Record<string, string> = {
  '.md': 'markdown',
  '.html': 'html',
  '.htm': 'html',
  '.json': 'json',
};

const DAY_MS = 86_400_000;

/** `report`: the nightly page, for a terminal, a mail, a file or a program. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const format = formatOf(options, context);
  const out = typeof options.out === 'string' ? options.out : undefined;
  const opened = await context.open();
  const place: Place = {
    ledger: opened.path,
    goesTo: out === undefined ? `output ${format}` : resolve(out),
    env: process.env,
  };
  const { period, why } = await periodOf(options, opened.clockMs, place);
  const { report, charts } = await reportAt(opened, period, format === 'html');
  const write = await FORMATS[format]!();
  const text = await write(report, { ...viewOf(report, { context, opened, why, out }), charts });
  if (out === undefined) context.print(text);
  else {
    writeWhole(out, text);
    context.note(`Written to ${out}`);
    await tellRefused(context, opened, report.odd.refused);
  }
  // A look on a terminal is no report that the next one goes on from.
  const trouble =
    why === 'given' || (out === undefined && context.onTerminal)
      ? undefined
      : keepReport(place, rfc3339(period.toMs));
  if (trouble) context.note(trouble);
  return report.odd.refused.length > 0 ? EXIT.data : EXIT.done;
}

/** As asked for, else by the ending of the file, else text. @throws Fault, usage, for two at once */
function formatOf({ format, out }: Options, { json }: Context): string {
  if (!json && format === undefined) return FORMAT_OF[extname(String(out ?? '')).toLowerCase()] ?? 'text';
  if (!json) return String(format);
  if (format === undefined || format === 'json') return 'json';
  throw usage(`Cannot write ${String(format)} and JSON at once`, 'leave out --json or --format');
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

/** Everything from one replay up to the end of the period, corrections as they are known at the clock. */
async function reportAt(
  opened: Opened,
  period: Period,
  isDrawn: boolean,
): Promise<{ report: Report; charts: Charts | null }> {
  const { shop, file, settled } = opened;
  const at = upTo(opened, period.toMs);
  const { entries } = at.settled;
  const washes = washesOf(period);
  const changes = changesOf(period, shop);
  const drawn = isDrawn ? (await import('./report-series.ts')).chartsOf(at, period) : null;
  const ahead = aheadOf(at, washes.watch, changes.watch, ...(drawn ? [drawn.watch] : []));
  const { status, since, movements, pace } = ahead;
  const looked = lookedAhead(ahead, at);
  const waste = wasteOf(entries, movements, period.toMs, monthStarts());
  const judged = isJudged(status);
  const stock = stockOf(shop, entries, movements, period.toMs);
  const tests = peroxideTests(stock, entries);
  const on = {
    status,
    since,
    pace,
    entries,
    days: localDays,
    containers: waste.containers,
    tests,
    ...looked,
  };
  const problems = [...file.problems, ...settled.problems];
  const report = reportOf({
    period,
    status,
    judged,
    matters: judged ? dueOf(on, DUE_SETTINGS) : [],
    ...looked,
    washes: washes.washes,
    changes: changes.changes,
    stock,
    waste: await heldAgainstRules(waste, period),
    events: file.events,
    entries,
    voided: settled.voided,
    movements,
    warnings: problems.filter(({ severity }) => severity === 'warning'),
    moreWarnings: file.moreProblems,
    later: settled.later,
  });
  return { report, charts: drawn?.charts(status, judged ? looked.outlook : null) ?? null };
}

/** The ledger as it stood at a moment, but for corrections made since. */
function upTo(opened: Opened, toMs: number): Opened {
  if (toMs === opened.clockMs) return opened;
  const entries = opened.settled.entries.filter(({ atMs }) => atMs <= toMs);
  return { ...opened, clockMs: toMs, settled: { ...opened.settled, entries } };
}

function lookedAhead(ahead: Ahead, at: Opened): Pick<Report, 'outlook' | 'supply'> {
  return ahead.pace
    ? lookAhead(ahead, at, { pace: ahead.pace, leadDays: DUE_SETTINGS.leadDays })
    : { outlook: null, supply: null };
}

/** The rules bring a long text along: only where there is waste. */
async function heldAgainstRules(
  waste: Parameters<typeof wasteReported>[0],
  period: Period,
): Promise<WasteReported | null> {
  if (waste.containers.length === 0 && waste.months.length === 0) return null;
  const { WASTE_RULES, isPast } = await import('../records/waste-rules.ts');
  const monthStartMs = monthStarts()(period.toMs);
  return wasteReported(waste, { period, monthStartMs, rules: WASTE_RULES, isPast });
}

function viewOf(
  report: Report,
  on: { context: Context; opened: Opened; why: PeriodWhy; out: string | undefined },
): Omit<ReportView, 'charts'> {
  const { context, opened, why, out } = on;
  const plain = painter({ choice: 'never', env: {}, stream: {} });
  return {
    width: context.width,
    paint: out === undefined ? context.paint : plain,
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
