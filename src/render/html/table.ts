/**
 * A plain table: a caption, a head, the first cell of each row its heading.
 */
import { element, type Markup } from './markup.ts';

export function tableOf({
  caption,
  head,
  rows,
}: {
  caption: string;
  head: readonly string[];
  rows: readonly (readonly string[])[];
}): Markup {
  return element(
    'table',
    {},
    element('caption', {}, caption),
    element(
      'thead',
      {},
      element(
        'tr',
        {},
        head.map((cell) => element('th', { scope: 'col' }, cell)),
      ),
    ),
    element(
      'tbody',
      {},
      rows.map(([first, ...rest]) =>
        element(
          'tr',
          {},
          element('th', { scope: 'row' }, first ?? ''),
          rest.map((cell) => element('td', {}, cell)),
        ),
      ),
    ),
  );
}
