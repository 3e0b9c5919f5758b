/**
 * What the signs of the charts mean.
 */
import type { Charts } from './charts.ts';
import { isDated } from './date-mark.ts';
import { element, type Markup } from './markup.ts';
import { areMany, KINDS, sign, turnsShown } from './signs.ts';

interface Item {
  drawn: Markup[];
  text: string;
}

/** Only what occurs in the charts. */
export function keyOf(charts: Charts): Markup {
  const { series, readings, ahead } = charts;
  const shown = new Set(series.baths.flatMap((_, place) => turnsShown(series.turns, place)));
  const kinds = KINDS.filter((kind) => [...shown].some(({ what }) => what === kind));
  const items = [
    { drawn: [element('path', { class: 'best', d: 'M1 8H27' })], text: 'best estimate' },
    { drawn: [element('path', { class: 'band', d: 'M1 3H27V13H1Z' })], text: '5 to 95\u00a0%' },
    ...(ahead.length > 0 ? [AHEAD] : []),
    ...(isDated(charts.outlook) ? [DATE] : []),
    ...(readings.length > 0 ? [readingItem(charts)] : []),
    ...(readings.some(({ flagged }) => flagged) ? [CROSSED] : []),
    ...kinds.map((kind) => ({ drawn: [sign(kind, { x: 14, y: 8 })], text: kind })),
  ];
  const more = series.turns.some((turn) => !shown.has(turn))
    ? element('li', {}, 'more was done than can be marked; the tables under the charts count it')
    : null;
  return element('ul', { class: 'key' }, items.map(itemOf), more);
}

const AHEAD: Item = {
  drawn: [element('path', { class: 'best-ahead', d: 'M1 8H27' })],
  text: 'ahead, if nothing is changed',
};

const DATE: Item = {
  drawn: [
    element(
      'g',
      { class: 'date' },
      element('path', { d: 'M2 3v10M26 3v10M2 8H26' }),
      element('circle', { cx: 12, cy: 8, r: 4 }),
    ),
  ],
  text: 'change due, early to late',
};

const CROSSED: Item = {
  drawn: [element('path', { class: 'spread', d: 'M9 3l10 10m0 -10l-10 10' })],
  text: 'reading too far off for chance',
};

function readingItem({ series, readings }: Charts): Item {
  const isDotted = series.baths.every((_, place) => areMany(readings.filter(({ bath }) => bath === place)));
  if (isDotted) return { drawn: [element('path', { class: 'reading-dots', d: 'M14 8h0' })], text: 'reading' };
  return {
    drawn: [
      element('path', { class: 'spread', d: 'M14 1V15M11 1h6M11 15h6' }),
      element('circle', { class: 'ring', cx: 14, cy: 8, r: 3.2 }),
    ],
    text: `reading, ± one standard deviation${readings.some(({ isDensity }) => isDensity) ? '; a density in the one chart where it tells more' : ''}`,
  };
}

function itemOf({ drawn, text }: Item): Markup {
  return element('li', {}, element('svg', { viewBox: '0 0 28 16', 'aria-hidden': 'true' }, drawn), text);
}
