/** Small parts of a wash record. */
import { type Child, element, type Markup } from './markup.ts';
import type { RecordView } from './record-view.ts';

export type Line = readonly [label: string, ...texts: Child[]];

export function linesOf(name: string, lines: readonly Line[]): Markup {
  return element(
    'dl',
    { class: name },
    lines.map(([label, ...texts]) =>
      element(
        'div',
        {},
        element('dt', {}, label),
        texts.map((text) => element('dd', {}, text)),
      ),
    ),
  );
}

export function timeOf(ms: number, { when, time }: RecordView): Markup {
  return element('time', { datetime: time(ms) }, when(ms));
}

/** Marks what was not logged with the wash. */
export function orDefault(text: Child, isDefault: boolean): Child {
  return isDefault ? [text, ' ', element('i', {}, '(default)')] : text;
}

export function headOf(names: readonly Child[]): Markup {
  return element(
    'thead',
    {},
    element(
      'tr',
      {},
      names.map((name) => element('th', { scope: 'col' }, name)),
    ),
  );
}

export function rowOf(label: Child, cells: readonly Child[]): Markup {
  return element(
    'tr',
    {},
    element('th', { scope: 'row' }, label),
    cells.map((cell) => element('td', {}, cell)),
  );
}

/** Cases, lots: codes with commas between, none of which a line breaks unless it is long. */
export function wholeOnes(words: readonly string[]): Child {
  return words.map((one, nth) => {
    const text = nth < words.length - 1 ? `${one},` : one;
    return [nth > 0 ? ' ' : '', one.length <= LONG ? element('span', { class: 'whole' }, text) : text];
  });
}

const LONG = 12;
