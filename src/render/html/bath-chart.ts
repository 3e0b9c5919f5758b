/**
 * Resin or water of one bath over time: the days behind, today, and the days ahead if nothing is changed.
 */
import { type BathCurves, type BathView, curvesOf } from './bath-curves.ts';
import { captionOf, descriptionOf, titleOf } from './bath-words.ts';
import { bandArea, curve } from './curves.ts';
import { dateMark } from './date-mark.ts';
import { drawing, type Frame, frameOf, nowLine, RIGHT, SIZE, timeAxis, valueAxis } from './frame.ts';
import { limitLines, limitsOf } from './limits.ts';
import { element, type Markup } from './markup.ts';
import { areMany, readingSigns, turnSigns } from './signs.ts';

/** Above the change limit there is room for it to be seen; a band that reaches far above is cut. */
const ABOVE_LIMIT = 1.2;
const MOST_OF_BAND = 1.6;
const HEADROOM = 1.04;

/** A figure with its caption; null for a bath that held nothing all the time. */
export function bathChart(view: BathView): Markup | null {
  const curves = curvesOf(view);
  if (![...curves.behind, ...curves.ahead].some(({ value }) => value)) return null;
  const { fromMs, toMs: nowMs } = view.charts.series.window;
  const frame = frameOf({
    id: `${view.part.id}${view.of}-${view.place + 1}`,
    fromMs,
    toMs: curves.lastMs,
    nowMs,
    nowWord: view.nowWord,
    top: topOf(view, curves),
    right: RIGHT.named,
  });
  const words = { title: titleOf(view), desc: descriptionOf(view, curves) };
  return element(
    'figure',
    { class: view.of },
    element('figcaption', {}, captionOf(view, curves)),
    drawing(frame, words, clipPath(frame), ...layers(view, curves, frame)),
  );
}

/** From the back to the front; what may leave the chart is cut at its edges. */
function layers(view: BathView, { best, behind, ahead }: BathCurves, frame: Frame): (Markup | null)[] {
  const { charts, tub, place, of } = view;
  const clip = { 'clip-path': `url(#${frame.id}-clip)` };
  const own = charts.readings.filter((one) => one.bath === place && one.of === of);
  const readings = readingSigns(own, frame);
  const [under, over] = areMany(own) ? [readings, null] : [null, readings];
  const coming = ahead.map(({ atMs, value }) => ({ atMs, value: value?.p50 ?? null }));
  return [
    valueAxis(frame),
    timeAxis(frame),
    element('g', clip, bandArea(behind, 'band', frame), bandArea(ahead, 'band-ahead', frame)),
    limitLines(limitsOf(tub.limits[of]), frame),
    nowLine(frame),
    turnSigns(charts.series.turns, place, frame),
    element('g', clip, under, curve(best, 'best', frame), curve(coming, 'best-ahead', frame), over),
    dateMark(view, frame),
  ];
}

function topOf({ tub, of }: BathView, { best, behind, ahead }: BathCurves): number {
  const change = tub.limits[of][1];
  const most = MOST_OF_BAND * change;
  const highest = (values: readonly (number | undefined | null)[]) =>
    values.reduce<number>((top, value) => Math.max(top, value ?? 0), 0);
  const band = highest([...behind, ...ahead].map(({ value }) => value?.p95));
  const coming = highest(ahead.map(({ value }) => value?.p50));
  const known = highest(best.map(({ value }) => value));
  return HEADROOM * Math.max(change * ABOVE_LIMIT, known, Math.min(coming, most), Math.min(band, most));
}

function clipPath({ id, right }: Frame): Markup {
  const { left, top, bottom } = SIZE;
  return element(
    'clipPath',
    { id: `${id}-clip` },
    element('rect', { x: left, y: top - 4, width: right - left, height: bottom - top + 4 }),
  );
}
