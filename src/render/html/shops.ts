/**
 * The baths of several shops at the head of their page: each shop with its baths, what to do, and what is due.
 */
import type { BathEstimate } from '../../outlook/estimate.ts';
import { verdictText } from '../baths.ts';
import { banded } from '../format.ts';
import { numbers } from './baths.ts';
import { type Child, element, type Markup } from './markup.ts';
import { worded } from './worded.ts';

/** One shop, its times as text in its own zone. */
export interface ShopRows {
  name: string;
  /** Of its report further down; undefined where there is none. */
  id?: string;
  /** Fri 2026-11-20 17:30; empty where it could not be read. */
  when: string;
  estimates: readonly BathEstimate[];
  /** What to do, or why it could not be read. */
  told: string;
  due: readonly string[];
}

export function shopsTable(shops: readonly ShopRows[]): Markup {
  return element(
    'table',
    { class: 'shops' },
    element('caption', {}, 'As the ledgers and the model have them; in brackets 5 to 95\u00a0%'),
    element(
      'thead',
      {},
      element(
        'tr',
        {},
        HEAD.map((head) => element('th', { scope: 'col' }, head)),
      ),
    ),
    shops.map(rowsOf),
  );
}

const HEAD = ['bath', 'verdict', 'resin, wt%', 'water, wt%'];

function rowsOf(shop: ShopRows): Markup {
  const { name, id, when, estimates, told, due } = shop;
  const named = id === undefined ? name : element('a', { href: `#${id}` }, name);
  const unread = element('strong', { class: 'verdict stop' }, 'not read');
  return element(
    'tbody',
    {},
    across(
      'th',
      { scope: 'rowgroup' },
      named,
      ' ',
      when ? element('span', { class: 'small' }, when) : unread,
    ),
    estimates.map(bathRow),
    across('td', {}, worded(told), due.length > 0 ? dueList(due) : null),
  );
}

function across(name: 'th' | 'td', attributes: { scope?: string }, ...children: Child[]): Markup {
  return element('tr', {}, element(name, { ...attributes, colspan: HEAD.length }, children));
}

function bathRow(bath: BathEstimate): Markup {
  const { resinWtPct, waterWtPct } = bath;
  return element(
    'tr',
    {},
    element('th', { scope: 'row' }, bath.bath),
    element('td', {}, element('strong', { class: `verdict ${bath.verdict}` }, verdictText(bath))),
    [resinWtPct, waterWtPct].map((value) => element('td', {}, value ? numbers(banded(value)) : '-')),
  );
}

function dueList(due: readonly string[]): Markup {
  return element(
    'ul',
    {},
    due.map((item) => element('li', {}, worded(item))),
  );
}
