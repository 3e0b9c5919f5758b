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
import { worded } from './html/worded.ts';
import { periodText, sectionsOf, titleOf } from './report-sections.ts';
import type { ReportFormat, ReportView, Section } from './report-view.ts';

export const reportHtml: ReportFormat = (report, view) => {
  const [baths, ...sections] = sectionsOf(report, view);
  const due = sections.filter(({ title }) => title === 'Due');
  const others = sections.filter((one) => !due.includes(one));
  return pageOf({
    title: titleOf(report, view),
    generator: `bathbook ${view.version}`,
    header: [heading(report, view), element('p', {}, worded(periodText(report, view)))],
    main: [
      bathsOf(report, baths!),
      due.map(sectionMarkup),
      view.charts ? overTime(report, view.charts, view) : null,
      others.map(sectionMarkup),
    ],
    footer: element('p', {}, `Ledger: ${view.ledger}`),
  });
};

function heading({ status }: Report, view: ReportView): Markup {
  const when = `report of ${view.when(status.clockMs)}`;
  const { name } = status.shop;
  return element('h1', {}, name ? [name, ' ', element('span', {}, when)] : when);
}

/** The advice first and large, then the baths, then what there is to say about them. */
function bathsOf({ status }: Report, { title, blocks }: Section): Markup {
  const children = blocks.map((block): Child => {
    if (block.kind === 'table') return bathsTable(status.estimates);
    return block.kind === 'facts' ? factsOf(block.facts.filter(([label]) => label !== 'advice')) : null;
  });
  const advice = element('p', { class: 'advice' }, worded(`${adviceText(status.advice, status.estimates)}.`));
  return sectionOf(title, advice, children);
}
