/**
 * What each load left on its parts, over time, and which parts were seen to look wrong.
 */
import { count } from '../format.ts';
import type { Charts } from './charts.ts';
import { dots } from './curves.ts';
import { drawing, type Frame, RIGHT, round, timeAxis, valueAxis } from './frame.ts';
import { type LoadsView, loadsFrame } from './loads-frame.ts';
import { element, type Markup } from './markup.ts';
import { residueText } from './numbers.ts';
import { titleIn } from './part.ts';

type Blemished = Charts['series']['loads']['blemished'];

/** Null where no load has a known surface. */
export function residueChart(view: LoadsView): Markup | null {
  const { residue, blemished } = view.charts.series.loads;
  const values = residue.flatMap(({ value }) => (value === null ? [] : [value]));
  if (values.length === 0) return null;
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const frame = loadsFrame(view, 'residue', most);
  const seen = looksText(blemished);
  const desc = [
    `µg/cm² of surface once dry, best estimate: ${residueText(least, most)}.`,
    ...(seen ? [`Looked wrong: ${seen}.`] : []),
    'The numbers are in the tables under the charts.',
  ].join(' ');
  const last = values.at(-1)!;
  return element(
    'figure',
    { class: 'loads' },
    element(
      'figcaption',
      {},
      titleIn(view.part, 1, 'residue left on each load'),
      element('p', {}, `µg/cm² once dry; the last ${residueText(last, last)}${seen ? `; ${seen}` : ''}`),
    ),
    drawing(
      frame,
      { title: 'Residue on the parts of each load over time', desc },
      valueAxis(frame),
      timeAxis(frame),
      dots(residue, 'dots', frame),
      blemished.length > 0 ? rings(blemished, frame) : null,
    ),
  );
}

/** Units that a word takes beside its ring. */
const WORD = 66;

/** A ring about the dot of a load, and what was seen where there is room for the word: once beside rings that stand together and tell the same. */
function rings(blemished: Blemished, { x, y }: Frame): Markup {
  let free = Number.NEGATIVE_INFINITY;
  return element(
    'g',
    { class: 'blemished' },
    blemished.map(({ atMs, residue, results }, nth) => {
      const [at, height] = [round(x(new Date(atMs))), round(y(residue))];
      const next = blemished[nth + 1];
      const isSaidNext = next?.results[0] === results[0] && x(new Date(next!.atMs)) - at < WORD;
      const start = Math.min(at + 7, RIGHT.bare - WORD + 10);
      const word =
        isSaidNext || start < free ? null : element('text', { x: start, y: height - 7 }, results[0]!);
      if (word) free = start + WORD;
      return [element('circle', { cx: at, cy: height, r: 5.5 }), word];
    }),
  );
}

/** How many loads looked how. */
function looksText(blemished: Blemished): string {
  const counts = new Map<string, number>();
  for (const result of blemished.flatMap(({ results }) => results))
    counts.set(result, (counts.get(result) ?? 0) + 1);
  return [...counts].map(([result, loads]) => `${count(loads, 'load')} ${result}`).join(', ');
}
