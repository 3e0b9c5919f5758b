/** What a report tells of a ledger at the end of its period. */
import type { Entry } from '../ledger/event.ts';
import { dueOf } from '../outlook/due.ts';
import { type Report, reportOf } from '../records/report.ts';
import { changesOf } from '../records/report-changes.ts';
import { isWithin, type Period } from '../records/report-period.ts';
import { washesOf } from '../records/report-washes.ts';
import { type WasteReported, wasteReported } from '../records/report-waste.ts';
import { stockOf } from '../records/stock.ts';
import { wasteOf } from '../records/waste.ts';
import type { Charts } from '../render/html/charts.ts';
import { type Ahead, aheadOf, lookAhead } from './ahead.ts';
import type { Opened } from './context.ts';
import { localDays } from './days.ts';
import { DUE_SETTINGS, isJudged } from './due.ts';
import { LooksKept } from './inspect-looks.ts';
import { monthStarts } from './report-clock.ts';
import { peroxideTests } from './stock-items.ts';

/** Nobody reads more of them on a page; `inspect` has them all. */
const MOST_LOOKS = 200;

/** Everything from one replay up to the end of the period, corrections as they are known at the clock. */
export async function reportAt(
  opened: Opened,
  period: Period,
  isDrawn: boolean,
): Promise<{ report: Report; charts: Charts | null }> {
  const { shop, file, settled } = opened;
  const at = upTo(opened, period.toMs);
  const { entries } = at.settled;
  const washes = washesOf(period);
  const changes = changesOf(period, shop);
  const looks = new LooksKept(shop, looksIn(entries, period), MOST_LOOKS);
  const drawn = isDrawn ? (await import('./report-series.ts')).chartsOf(at, period) : null;
  const ahead = aheadOf(
    at,
    washes.watch,
    changes.watch,
    (step, belief) => looks.watch(step, belief),
    ...(drawn ? [drawn.watch] : []),
  );
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
    inspections: looks.looks(),
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

function looksIn(entries: readonly Entry[], period: Period): Entry[] {
  return entries.filter(({ event, atMs }) => event.what === 'inspect' && isWithin(period, atMs));
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
