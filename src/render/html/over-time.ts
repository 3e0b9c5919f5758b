/**
 * The section of the charts: what the signs mean, a chart for each bath and kind, the loads, and the numbers.
 */
import type { Report } from '../../records/report.ts';
import type { ReportView } from '../report-view.ts';
import { bathChart } from './bath-chart.ts';
import type { Charts } from './charts.ts';
import { keyOf } from './key.ts';
import { residueChart, washesChart } from './load-charts.ts';
import { element, type Markup } from './markup.ts';
import { bathNumbers, loadNumbers, numbersOf } from './numbers.ts';

export function overTime({ status, period }: Report, charts: Charts, view: ReportView): Markup {
  const { tubs } = status.shop;
  const nowWord = view.day(period.toMs) === view.day(view.clockMs) ? 'today' : 'end';
  const given = { charts, nowWord, day: view.day };
  const figures = [
    ...(['resin', 'water'] as const).flatMap((of) =>
      tubs.map((tub, place) => bathChart({ ...given, tub, place, of })),
    ),
    residueChart(given),
    washesChart(given),
  ];
  return element(
    'section',
    { class: 'wide' },
    element('h2', {}, `Over time, since ${view.day(charts.series.window.fromMs)}`),
    keyOf(charts),
    element('div', { class: 'charts' }, figures),
    numbersOf([
      ...tubs.map((tub, place) => bathNumbers(tub, place, charts, view)),
      loadNumbers(charts, view),
    ]),
  );
}
