/**
 * What the signs of the charts mean.
 */
import type { Charts } from './charts.ts';
import { element, type Markup } from './markup.ts';
import { KINDS, sign } from './signs.ts';

/** Only what occurs in the charts. */
export function keyOf({ series, readings, ahead }: Charts): Markup {
  const kinds = KINDS.filter((kind) => series.turns.some(({ what }) => what === kind));
  const items: [Markup[], string][] = [
    [[element('path', { class: 'best', d: 'M1 8H27' })], 'best estimate'],
    [[element('path', { class: 'band', d: 'M1 3H27V13H1Z' })], '5 to 95 %'],
    ...(ahead.length > 0
      ? [
          [[element('path', { class: 'best-ahead', d: 'M1 8H27' })], 'ahead, if nothing is changed'] as [
            Markup[],
            string,
          ],
        ]
      : []),
    ...(readings.length > 0
      ? [
          [
            [
              element('path', { class: 'spread', d: 'M14 1V15M11 1h6M11 15h6' }),
              element('circle', { class: 'ring', cx: 14, cy: 8, r: 3.2 }),
            ],
            'reading, ± one standard deviation',
          ] as [Markup[], string],
        ]
      : []),
    ...kinds.map((kind): [Markup[], string] => [[sign(kind, { x: 14, y: 8 })], kind]),
  ];
  return element(
    'ul',
    { class: 'key' },
    items.map(([drawn, text]) =>
      element('li', {}, element('svg', { viewBox: '0 0 28 16', 'aria-hidden': 'true' }, drawn), text),
    ),
  );
}
