/**
 * Loads over time: what each left on its parts, and how many there were.
 */
import { count, trim } from '../format.ts';
import type { Charts } from './charts.ts';
import { dots } from './curves.ts';
import { drawing, type Frame, frameOf, RIGHT, round, SIZE, timeAxis, valueAxis } from './frame.ts';
import { element, type Markup } from './markup.ts';

interface View {
  charts: Charts;
  nowWord: string;
  day(ms: number): string;
}

const HEADROOM = 1.08;
/** Units left free between bars. */
const BETWEEN = 1;

/** Null where no load has a known surface. */
export function residueChart(view: View): Markup | null {
  const { residue, blemished } = view.charts.series.loads;
  const values = residue.flatMap(({ value }) => (value === null ? [] : [value]));
  if (values.length === 0) return null;
  const frame = frameFor(view, 'residue', HEADROOM * Math.max(...values));
  const desc = `µg/cm² of surface, best estimate: from ${figure(Math.min(...values))} to ${figure(Math.max(...values))}. The numbers are in the tables under the charts.`;
  return element(
    'figure',
    { class: 'loads' },
    element(
      'figcaption',
      {},
      element('h3', {}, 'residue left on each load'),
      element('p', {}, `µg/cm² once dry; the last ${figure(values.at(-1)!)}`),
    ),
    drawing(
      frame,
      { title: 'Residue on the parts of each load over time', desc },
      valueAxis(frame),
      timeAxis(frame),
      dots(residue, 'dots', frame),
      blemished.length > 0
        ? element(
            'g',
            { class: 'blemished' },
            blemished.map((one) => blemish(one, frame)),
          )
        : null,
    ),
  );
}

/** A load whose parts looked wrong: a ring about its dot, and what was seen. */
function blemish(
  { atMs, residue, results }: Charts['series']['loads']['blemished'][number],
  { x, y }: Frame,
): Markup[] {
  const [at, height] = [round(x(new Date(atMs))), round(y(residue))];
  const isRight = at > SIZE.width - 80;
  return [
    element('circle', { cx: at, cy: height, r: 5.5 }),
    element(
      'text',
      { x: isRight ? at - 9 : at + 9, y: height + 4, 'text-anchor': isRight ? 'end' : 'start' },
      results.join(', '),
    ),
  ];
}

export function washesChart(view: View): Markup {
  const { series, binKind } = view.charts;
  const { bins } = series.loads;
  const most = Math.max(1, ...bins.map(({ loads }) => loads));
  const total = bins.reduce((sum, { loads }) => sum + loads, 0);
  const frame = frameFor(view, 'washes', HEADROOM * most);
  const words = `${count(total, 'wash', 'washes')}, at most ${most} a ${binKind}`;
  return element(
    'figure',
    { class: 'washes' },
    element('figcaption', {}, element('h3', {}, `washes a ${binKind}`), element('p', {}, words)),
    drawing(
      frame,
      { title: `Washes a ${binKind}`, desc: `${words}. The numbers are in the tables under the charts.` },
      valueAxis(frame, Math.min(4, most)),
      timeAxis(frame),
      element('path', { class: 'bars', 'data-curve': 'bars', d: bars(bins, frame) || undefined }),
    ),
  );
}

function bars(bins: Charts['series']['loads']['bins'], { x, y }: Frame): string {
  return bins
    .filter(({ loads }) => loads > 0)
    .map(({ startMs, endMs, loads }) => {
      const [from, to] = [startMs, endMs].map((ms) =>
        Math.min(RIGHT.bare, Math.max(SIZE.left, x(new Date(ms)))),
      ) as [number, number];
      const gap = to - from > 3 * BETWEEN ? BETWEEN : 0;
      return `M${round(from + gap / 2)} ${SIZE.bottom}V${round(y(loads))}H${round(to - gap / 2)}V${SIZE.bottom}Z`;
    })
    .join('');
}

function frameFor({ charts, nowWord }: View, id: string, top: number): Frame {
  const { fromMs, toMs } = charts.series.window;
  return frameOf({ id, fromMs, toMs, nowMs: toMs, nowWord, top, right: RIGHT.bare });
}

function figure(value: number): string {
  return trim(value, value < 10 ? 1 : 0);
}
