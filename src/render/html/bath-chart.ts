/**
 * Resin or water of one bath over time: the days behind, today, and the days ahead if nothing is changed.
 */
import type { Tub } from '../../bath/shop.ts';
import type { BathSeries, Looked } from '../../records/series.ts';
import { banded, trim } from '../format.ts';
import type { Charts } from './charts.ts';
import { type BandPoint, bandArea, curve } from './curves.ts';
import { dateMark } from './date-mark.ts';
import { drawing, type Frame, frameOf, nowLine, RIGHT, SIZE, timeAxis, valueAxis } from './frame.ts';
import { limitLines, limitsOf } from './limits.ts';
import { element, type Markup } from './markup.ts';
import { readingSigns, turnSigns } from './signs.ts';

export type Of = 'resin' | 'water';

export interface BathChart {
  tub: Tub;
  place: number;
  of: Of;
  charts: Charts;
  nowWord: string;
  /** A day in words. */
  day(ms: number): string;
}

/** Above the change limit there is room for it to be seen; a band that reaches far above is cut. */
const ABOVE_LIMIT = 1.2;
const MOST_OF_BAND = 1.6;
const HEADROOM = 1.04;
/** What lies ahead takes two thirds of the chart at most, and has four weeks at least. */
const MOST_AHEAD = 2;
const LEAST_AHEAD_MS = 28 * 86_400_000;

/** A figure with its caption; null for a bath that held nothing all the time. */
export function bathChart(chart: BathChart): Markup | null {
  const { tub, place, of, charts } = chart;
  const { series } = charts;
  const behind = bandOf(series.baths[place]!.looked, of);
  const ahead = aheadOf(chart);
  if (![...behind, ...ahead].some(({ value }) => value)) return null;
  const { fromMs, toMs: nowMs } = series.window;
  const lastMs = Math.min(charts.ahead.at(-1)?.atMs ?? nowMs, nowMs + mostAheadMs(fromMs, nowMs));
  const frame = frameOf({
    id: `${of}-${place + 1}`,
    fromMs,
    toMs: lastMs,
    nowMs,
    nowWord: chart.nowWord,
    top: topOf(chart, behind, ahead),
    right: RIGHT.named,
  });
  const clip = { 'clip-path': `url(#${frame.id}-clip)` };
  return element(
    'figure',
    { class: of },
    element('figcaption', {}, caption(chart, behind)),
    drawing(
      frame,
      { title: titleOf(chart), desc: descriptionOf(chart, behind, lastMs) },
      clipPath(frame),
      valueAxis(frame),
      timeAxis(frame),
      element('g', clip, bandArea(behind, 'band', frame), bandArea(ahead, 'band-ahead', frame)),
      limitLines(limitsOf(tub.limits[of]), frame),
      nowLine(frame),
      turnSigns(series.turns, place, frame),
      element(
        'g',
        clip,
        curve(series.baths[place]!.best[of], 'best', frame),
        curve(
          ahead.map(({ atMs, value }) => ({ atMs, value: value?.p50 ?? null })),
          'best-ahead',
          frame,
        ),
        readingSigns(
          charts.readings.filter((one) => one.bath === place && one.of === of),
          frame,
        ),
      ),
      dateMark(chart, frame),
    ),
  );
}

function mostAheadMs(fromMs: number, nowMs: number): number {
  return Math.max(LEAST_AHEAD_MS, MOST_AHEAD * (nowMs - fromMs));
}

function bandOf(looked: BathSeries['looked'], of: Of): BandPoint[] {
  return looked.map(({ atMs, banded }: Looked) => ({ atMs, value: banded?.[of] ?? null }));
}

function aheadOf({ charts, place, of }: BathChart): BandPoint[] {
  return charts.ahead.map(({ atMs, resinWtPct, waterWtPct }) => {
    const value = (of === 'resin' ? resinWtPct : waterWtPct)[place];
    return {
      atMs,
      value: value ? { p05: value.p05 ?? value.p50, p50: value.p50, p95: value.p95 ?? value.p50 } : null,
    };
  });
}

function topOf({ tub, place, of, charts }: BathChart, ...bands: BandPoint[][]): number {
  const change = tub.limits[of][1];
  const band = Math.max(0, ...bands.flat().map(({ value }) => value?.p95 ?? 0));
  const best = Math.max(
    0,
    ...charts.series.baths[place]!.best[of].map(({ value }) => value ?? 0),
    ...(charts.ahead.length > 0
      ? bands[1]!.map(({ value }) => Math.min(value?.p50 ?? 0, MOST_OF_BAND * change))
      : []),
  );
  return HEADROOM * Math.max(change * ABOVE_LIMIT, best, Math.min(band, MOST_OF_BAND * change));
}

function clipPath({ id, right }: Frame): Markup {
  const { left, top, bottom } = SIZE;
  return element(
    'clipPath',
    { id: `${id}-clip` },
    element('rect', { x: left, y: top - 4, width: right - left, height: bottom - top + 4 }),
  );
}

function titleOf({ tub, of }: BathChart): string {
  return `${of === 'resin' ? 'Resin' : 'Water'} in the ${tub.name} bath over time`;
}

function caption({ tub, of, nowWord }: BathChart, behind: readonly BandPoint[]): Markup[] {
  const now = behind.at(-1)?.value;
  const text = now ? `${banded(now)} wt% ${nowWord === 'today' ? 'today' : 'at the end'}` : 'empty';
  return [element('h3', {}, `${tub.name} bath, ${of}`), element('p', {}, text)];
}

/** What the drawing shows, for who does not see it; the numbers are in the tables below. */
function descriptionOf(
  { tub, of, charts, day, place }: BathChart,
  behind: readonly BandPoint[],
  lastMs: number,
): string {
  const { window, turns } = charts.series;
  const known = behind.filter(({ value }) => value);
  const highest = known.reduce((most, one) => (one.value!.p50 > most.value!.p50 ? one : most), known[0]!);
  const changes = turns.filter(({ baths, what }) => baths.includes(place) && what !== 'top-up').length;
  const last = aheadOf({ tub, of, charts, day, place, nowWord: '' })
    .filter(({ atMs }) => atMs <= lastMs)
    .at(-1);
  return [
    `From ${day(window.fromMs)} to ${day(window.toMs)}, in per cent by weight${of === 'water' ? ' of the solvent' : ''}.`,
    ...(highest ? [`Highest ${banded(highest.value!)} on ${day(highest.atMs)}.`] : []),
    `Liquid changed ${changes} times. Change limit ${trim(tub.limits[of][1], 2)}.`,
    ...(last?.value ? [`Ahead, if nothing is changed: ${banded(last.value)} on ${day(last.atMs)}.`] : []),
    'The numbers are in the tables below.',
  ].join(' ');
}
