/**
 * The section of the charts: what the signs mean, a chart for each bath and kind, the loads, and the numbers.
 */
import type { Report } from '../../records/report.ts';
import type { ReportView } from '../report-view.ts';
import { bathChart } from './bath-chart.ts';
import type { Charts } from './charts.ts';
import { keyOf } from './key.ts';
import { element, type Markup } from './markup.ts';
import { bathNumbers, loadNumbers, numbersOf } from './numbers.ts';
import { type Part, titleIn } from './part.ts';
import { residueChart } from './residue-chart.ts';
import { washesChart } from './washes-chart.ts';

export function overTime({ status, period }: Report, charts: Charts, view: ReportView, part: Part): Markup {
  const { tubs } = status.shop;
  const nowWord = view.day(period.toMs) === view.day(view.clockMs) ? 'today' : 'end';
  const given = { charts, part, nowWord, day: view.day };
  const figures = [
    ...inOrder(tubs).map(({ place, of }) => bathChart({ ...given, tub: tubs[place]!, place, of })),
    residueChart(given),
    washesChart(given),
  ];
  return element(
    'section',
    { class: 'wide' },
    titleIn(part, 0, `Over time, since ${view.day(charts.series.window.fromMs)}`),
    keyOf(charts),
    element('div', { class: 'charts' }, figures),
    numbersOf([
      ...tubs.map((tub, place) => bathNumbers(tub, place, charts, view)),
      loadNumbers(charts, view),
    ]),
  );
}

/** Two to a row: of a pair both baths beside each other, else both kinds of a bath. */
function inOrder(tubs: readonly unknown[]): { place: number; of: 'resin' | 'water' }[] {
  const kinds = ['resin', 'water'] as const;
  const places = tubs.map((_, place) => place);
  return tubs.length === 2
    ? kinds.flatMap((of) => places.map((place) => ({ place, of })))
    : places.flatMap((place) => kinds.map((of) => ({ place, of })));
}
