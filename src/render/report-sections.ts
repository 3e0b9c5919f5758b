/**
 * The report in words, section by section, for the formats that people read. What has nothing to say is left out.
 */
import type { Report } from '../records/report.ts';
import { dueText } from './due.ts';
import { bathsSection } from './report-baths.ts';
import { changesSection, readingsSection, washesSection } from './report-happened.ts';
import { correctionsSection, inspectionsSection, oddSection } from './report-record.ts';
import { solventSection, wasteSection } from './report-solvent.ts';
import type { PeriodWhy, ReportView, Section } from './report-view.ts';

export function titleOf({ status }: Report, view: ReportView): string {
  return [status.shop.name, `report of ${view.when(status.clockMs)}`].filter(Boolean).join(', ');
}

/** What the page is about. */
export function periodText({ period }: Report, view: ReportView): string {
  const from = view.when(period.fromMs);
  const texts: Record<PeriodWhy, string> = {
    given: `From ${from} to ${view.when(period.toMs)}`,
    'since-last-report': `Since the last report, ${from}`,
    'last-24-h': `The last 24 hours, since ${from}: there is no earlier report to go on from`,
    'last-24-h-unkept': `The last 24 hours, since ${from}: there is no folder to keep the time of the last report in (HOME or XDG_STATE_HOME)`,
  };
  return texts[view.why];
}

export function sectionsOf(report: Report, view: ReportView): Section[] {
  return [
    bathsSection(report, view),
    ...dueSection(report, view),
    ...washesSection(report),
    ...readingsSection(report, view),
    ...changesSection(report, view),
    ...solventSection(report, view),
    ...wasteSection(report, view),
    ...inspectionsSection(report, view),
    ...correctionsSection(report, view),
    ...oddSection(report),
  ];
}

function dueSection(report: Report, view: ReportView): Section[] {
  const items = dueItems(report, view);
  return items.length > 0 ? [{ title: 'Due', blocks: [{ kind: 'list', items }] }] : [];
}

/** What is due, or that nobody can tell. */
export function dueItems({ judged, matters, status }: Report, view: ReportView): string[] {
  return judged
    ? matters.map((matter) => dueText(matter, { status, day: view.day }))
    : ['not judged: a bath is empty or beyond the data, or the ledger is at odds'];
}
