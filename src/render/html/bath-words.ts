/**
 * The words of a bath's chart: its caption, and what it shows for who does not see it.
 */
import { banded, count, trim } from '../format.ts';
import type { BathCurves, BathView } from './bath-curves.ts';
import { element, type Markup } from './markup.ts';
import { titleIn } from './part.ts';

export function titleOf({ tub, of }: BathView): string {
  return `${of === 'resin' ? 'Resin' : 'Water'} in the ${tub.name} bath over time`;
}

export function captionOf({ tub, of, nowWord, part }: BathView, { behind }: BathCurves): Markup[] {
  const now = behind.at(-1)?.value;
  const text = now ? `${banded(now)} wt% ${nowWord === 'today' ? 'today' : 'at the end'}` : 'empty';
  return [titleIn(part, 1, `${tub.name} bath, ${of}`), element('p', {}, text)];
}

/** The numbers are in the tables under the charts. */
export function descriptionOf(view: BathView, { behind, ahead, lastMs }: BathCurves): string {
  const { tub, of, charts, day, place } = view;
  const { window, turns } = charts.series;
  const known = behind.flatMap(({ atMs, value }) => (value ? [{ atMs, value }] : []));
  const highest = known.reduce<(typeof known)[number] | undefined>(
    (most, one) => (most && most.value.p50 >= one.value.p50 ? most : one),
    undefined,
  );
  const changes = turns.filter(({ baths, what }) => baths.includes(place) && what !== 'top-up').length;
  const last = ahead.filter(({ atMs }) => atMs <= lastMs).at(-1);
  const [soon, change, never] = tub.limits[of].map((limit) => trim(limit, 2));
  return [
    `From ${day(window.fromMs)} to ${day(window.toMs)}, in per cent by weight${of === 'water' ? ' of the solvent' : ''}.`,
    ...(highest ? [`Highest: ${banded(highest.value)} on ${day(highest.atMs)}.`] : []),
    `Liquid changed: ${count(changes, 'time')}. Limits: soon ${soon}, change ${change}, never ${never}.`,
    ...(last?.value ? [`Ahead, if nothing is changed: ${banded(last.value)} on ${day(last.atMs - 1)}.`] : []),
    'The numbers are in the tables under the charts.',
  ].join(' ');
}
