/**
 * The report as one page of HTML that needs nothing else: no script, no network; charts of the weeks behind and the days ahead.
 */
import type { Report } from '../records/report.ts';
import { adviceText } from './advice.ts';
import { bathsTable } from './html/baths.ts';
import { factsOf, sectionMarkup, sectionOf } from './html/blocks.ts';
import { type Child, element, type Markup } from './html/markup.ts';
import { overTime } from './html/over-time.ts';
import { pageOf } from './html/page.ts';
import { ALONE, type Part } from './html/part.ts';
import { worded } from './html/worded.ts';
import { periodText, sectionsOf, titleOf } from './report-sections.ts';
import type { ReportFormat, ReportView, Section } from './report-view.ts';

export const reportHtml: ReportFormat = (report, view) =>
  pageOf({
    title: titleOf(report, view),
    generator: `bathbook ${view.version}`,
    header: [heading(report, view), periodOf(report, view)],
    main: reportParts(report, view, ALONE),
    footer: ledgerOf(view),
  });

/** One report of several on a page, under a title that is a level above its own. */
export function reportPart(report: Report, view: ReportView, part: Part): Markup {
  return element('div', {}, periodOf(report, view), reportParts(report, view, part), ledgerOf(view));
}

function reportParts(report: Report, view: ReportView, part: Part): Child[] {
  const [baths, ...sections] = sectionsOf(report, view);
  const due = sections.filter(({ title }) => title === 'Due');
  const others = sections.filter((one) => !due.includes(one));
  return [
    bathsOf(report, baths!, part),
    due.map((section) => sectionMarkup(section, part)),
    view.charts ? overTime(report, view.charts, view, part) : null,
    others.map((section) => sectionMarkup(section, part)),
  ];
}

function heading({ status }: Report, view: ReportView): Markup {
  const when = `report of ${view.when(status.clockMs)}`;
  const { name } = status.shop;
  return element('h1', {}, name ? [name, ' ', element('span', {}, when)] : when);
}

function periodOf(report: Report, view: ReportView): Markup {
  return element('p', { class: 'period' }, worded(periodText(report, view)));
}

function ledgerOf({ ledger }: ReportView): Markup {
  return element('p', { class: 'ledger' }, `Ledger: ${ledger}`);
}

/** The advice first and large, then the baths, then what there is to say about them. */
function bathsOf({ status }: Report, { title, blocks }: Section, part: Part): Markup {
  const children = blocks.map((block): Child => {
    if (block.kind === 'table') return bathsTable(status.estimates);
    return block.kind === 'facts' ? factsOf(block.facts.filter(([label]) => label !== 'advice')) : null;
  });
  const advice = element('p', { class: 'advice' }, worded(`${adviceText(status.advice, status.estimates)}.`));
  return sectionOf(title, part, advice, children);
}
