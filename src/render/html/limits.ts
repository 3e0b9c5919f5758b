/**
 * Limits of a chart: a line each, named at its right end, each with strokes of its own.
 */

import { trim } from '../format.ts';
import { type Frame, round, SIZE } from './frame.ts';
import { element, type Markup } from './markup.ts';

export interface Limit {
  name: 'soon' | 'change' | 'never';
  value: number;
}

/** Lines of text closer than this lie on each other. */
const LINE = 14;

/** Those within the chart. */
export function limitLines(limits: readonly Limit[], { y, right }: Frame): Markup {
  const [, top] = y.domain() as [number, number];
  const shown = limits.filter(({ value }) => value <= top).sort((one, other) => one.value - other.value);
  const heights: number[] = [];
  for (const { value } of shown) heights.push(Math.min(y(value), (heights.at(-1) ?? 1e9) - LINE));
  return element(
    'g',
    { class: 'limits' },
    shown.map(({ name, value }, place) => [
      element('path', {
        class: name,
        'data-limit': value,
        d: `M${SIZE.left} ${round(y(value))}H${right}`,
      }),
      element(
        'text',
        { x: right + 6, y: round(heights[place]!) + 4, class: name },
        `${name} ${trim(value, 2)}`,
      ),
    ]),
  );
}

/** Limits of a tub by their names. */
export function limitsOf([soon, change, never]: readonly [number, number, number]): Limit[] {
  return [
    { name: 'soon', value: soon },
    { name: 'change', value: change },
    { name: 'never', value: never },
  ];
}
