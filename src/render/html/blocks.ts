/**
 * The sections of the report as markup.
 */
import type { Block, Fact, Section } from '../report-view.ts';
import { type Child, element, type Markup } from './markup.ts';
import { type Part, titleIn } from './part.ts';
import { tableOf } from './table.ts';
import { worded } from './worded.ts';

/** A title in the margin, and what is under it. */
export function sectionOf(title: string, part: Part, ...children: Child[]): Markup {
  return element('section', {}, titleIn(part, 0, title), element('div', {}, ...children));
}

export function sectionMarkup({ title, blocks }: Section, part: Part): Markup {
  return sectionOf(
    title,
    part,
    blocks.map((block) => blockMarkup(block, title)),
  );
}

function blockMarkup(block: Block, title: string): Markup {
  switch (block.kind) {
    case 'table':
      return tableOf({ caption: title, ...block.table });
    case 'facts':
      return factsOf(block.facts);
    case 'list':
      return element(
        'ul',
        {},
        block.items.map((item) => element('li', {}, worded(item))),
      );
    default:
      return block satisfies never;
  }
}

/** A label that stays the same, or is left out, is said once. */
export function factsOf(facts: readonly Fact[]): Markup {
  const groups: [string, string[]][] = [];
  for (const [label, text] of facts) {
    const last = groups.at(-1);
    if (last && (label === '' || label === last[0])) last[1].push(text);
    else groups.push([label, [text]]);
  }
  return element(
    'dl',
    {},
    groups.map(([label, texts]) =>
      element(
        'div',
        {},
        element('dt', {}, label),
        texts.map((text) => element('dd', {}, worded(text))),
      ),
    ),
  );
}
