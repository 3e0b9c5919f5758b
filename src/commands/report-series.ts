/** What the charts of a report show: the window, the curves behind, the days ahead. */
import type { Step } from '../bath/replay.ts';
import type { Belief } from '../belief/belief.ts';
import { believe } from '../belief/believe.ts';
import type { Entry } from '../ledger/event.ts';
import type { Outlook } from '../outlook/outlook.ts';
import type { Status } from '../outlook/status.ts';
import { trailAhead } from '../outlook/trail.ts';
import type { Period } from '../records/report-period.ts';
import { SeriesKept, type Window } from '../records/series.ts';
import { binsOf } from '../records/series-bins.ts';
import { readingPoints } from '../records/series-readings.ts';
import type { Charts } from '../render/html/charts.ts';
import type { Opened } from './context.ts';
import { localDays } from './days.ts';
import { monthStarts } from './report-clock.ts';

/** Eight weeks: about two changes of a small shop. */
const USUAL_DAYS = 56;
const MS_PER_DAY = 86_400_000;

export interface ChartsKept {
  watch(step: Step, belief: Belief): void;
  charts(status: Status, outlook: Outlook | null): Charts;
}

/**
 * The last 56 days, or all of the period where that is longer, or since the first event.
 *
 * @returns null before anything was logged
 */
export function chartsOf({ shop, settled }: Opened, period: Period): ChartsKept | null {
  const { entries } = settled;
  const window = windowOf(entries[0]?.atMs, period);
  if (!window) return null;
  const { kind, bins } = binsOf(window, { days: localDays, monthStartOf: monthStarts() });
  const moments = bins.map(({ endMs }) => endMs);
  const keep = (counted: readonly Entry[]) =>
    new SeriesKept(shop, { window, entries: counted, bins, moments });
  const kept = keep(entries);
  return {
    watch: (step, belief) => kept.watch(step, belief),
    charts: (status, outlook) => {
      const series = (isAtOdds(status) ? lookedAgain(status, entries, keep) : kept).series(status.estimates);
      const looked = series.baths.map((bath) => bath.looked);
      return {
        series,
        readings: readingPoints(status.belief.compared, window, looked),
        binKind: kind,
        ahead: outlook ? trailAhead(status, outlook, localDays) : [],
        outlook,
      };
    },
  };
}

function isAtOdds({ replayed }: Status): boolean {
  return replayed.refused.length > 0;
}

/** What was refused was to be the end of a stretch, and is not: once more, knowing which. */
function lookedAgain(
  { shop, clockMs, replayed }: Status,
  entries: readonly Entry[],
  keep: (counted: readonly Entry[]) => SeriesKept,
): SeriesKept {
  const refused = new Set(replayed.refused.map(({ entry }) => entry));
  const kept = keep(entries.filter((entry) => !refused.has(entry)));
  believe(shop, entries, clockMs, { watch: (step, belief) => kept.watch(step, belief) });
  return kept;
}

function windowOf(firstMs: number | undefined, { fromMs, toMs }: Period): Window | null {
  if (firstMs === undefined || firstMs >= toMs) return null;
  const usualMs = localDays.startOf(toMs - USUAL_DAYS * MS_PER_DAY);
  return { fromMs: Math.max(localDays.startOf(firstMs), Math.min(fromMs, usualMs)), toMs };
}
