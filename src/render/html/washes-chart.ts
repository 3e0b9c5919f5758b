/**
 * How many washes there were on each day, or in each week or month.
 */
import { count } from '../format.ts';
import type { Charts } from './charts.ts';
import { drawing, type Frame, RIGHT, round, SIZE, timeAxis, valueAxis } from './frame.ts';
import { type LoadsView, loadsFrame } from './loads-frame.ts';
import { element, type Markup } from './markup.ts';
import { titleIn } from './part.ts';

/** Units left free between bars. */
const BETWEEN = 1;

export function washesChart(view: LoadsView): Markup {
  const { series, binKind } = view.charts;
  const { bins } = series.loads;
  const most = bins.reduce((top, { loads }) => Math.max(top, loads), 0);
  const total = bins.reduce((sum, { loads }) => sum + loads, 0);
  const frame = loadsFrame(view, 'washes', Math.max(1, most));
  const words = `${count(total, 'wash', 'washes')}${total > 0 ? `, at most ${most} a ${binKind}` : ''}`;
  return element(
    'figure',
    { class: 'washes' },
    element('figcaption', {}, titleIn(view.part, 1, `washes a ${binKind}`), element('p', {}, words)),
    drawing(
      frame,
      { title: `Washes a ${binKind}`, desc: `${words}. The numbers are in the tables under the charts.` },
      valueAxis(frame, Math.min(4, Math.max(1, most))),
      timeAxis(frame),
      total > 0 ? element('path', { class: 'bars', 'data-curve': 'bars', d: bars(bins, frame) }) : null,
    ),
  );
}

function bars(bins: Charts['series']['loads']['bins'], { x, y }: Frame): string {
  const at = (ms: number) => Math.min(RIGHT.bare, Math.max(SIZE.left, x(new Date(ms))));
  return bins
    .filter(({ loads }) => loads > 0)
    .map(({ startMs, endMs, loads }) => {
      const [from, to] = [at(startMs), at(endMs)];
      const gap = to - from > 3 * BETWEEN ? BETWEEN : 0;
      const [left, right] = [round(from + gap / 2), round(to - gap / 2)];
      return `M${left} ${SIZE.bottom}V${round(y(loads))}H${right}V${SIZE.bottom}Z`;
    })
    .join('');
}
