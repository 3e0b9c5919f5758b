/**
 * The baths at the head of the page: a column a bath, its verdict large, its figures against their limits.
 */
import type { BathEstimate } from '../../outlook/estimate.ts';
import type { Quantity } from '../../outlook/quantity.ts';
import { verdictText } from '../baths.ts';
import { banded, trim } from '../format.ts';
import { gauge } from './gauge.ts';
import { type Child, element, type Markup } from './markup.ts';

export function bathsTable(estimates: readonly BathEstimate[]): Markup {
  const row = (label: string, of: (bath: BathEstimate) => Child) =>
    element(
      'tr',
      {},
      element('th', { scope: 'row' }, label),
      estimates.map((bath) => element('td', {}, of(bath))),
    );
  const known = (of: (bath: BathEstimate) => Child) => (bath: BathEstimate) =>
    bath.resinWtPct === null ? '-' : of(bath);
  return element(
    'table',
    { class: 'baths' },
    element('caption', {}, 'As the ledger and the model have them; in brackets 5 to 95\u00a0%'),
    element(
      'thead',
      {},
      element(
        'tr',
        {},
        element('th', { scope: 'col' }, 'bath'),
        estimates.map(({ bath }) => element('th', { scope: 'col' }, bath)),
      ),
    ),
    element(
      'tbody',
      {},
      row('verdict', (bath) => element('strong', { class: `verdict ${bath.verdict}` }, verdictText(bath))),
      row(
        'resin, wt%',
        known(({ resinWtPct, limits }) => figure(resinWtPct!, limits.resin)),
      ),
      row(
        'water, wt%',
        known(({ waterWtPct, limits }) => figure(waterWtPct!, limits.water)),
      ),
      row('level, L', ({ volumeMl, markMl }) => [
        numbers(banded(litres(volumeMl))),
        small(`mark ${(markMl / 1000).toFixed(2)}`),
      ]),
      row(
        'age, days',
        known(({ ageDays, limits }) => [
          numbers(String(Math.floor(ageDays ?? 0))),
          small(`of ${limits.ageDays}`),
        ]),
      ),
      row('washes', ({ washes }) => [numbers(String(washes)), small('since change')]),
    ),
  );
}

function figure(value: Quantity, limits: readonly [number, number, number]): Child {
  const [soon, change, never] = limits.map((limit) => trim(limit, 2));
  return element(
    'div',
    { class: 'figure' },
    element('div', {}, numbers(banded(value))),
    gauge(value, limits),
    small(`soon ${soon}, change ${change}, never ${never}`),
  );
}

/** 4.3 (2.1–8.9): the best estimate large, its band smaller. */
export function numbers(text: string): Child {
  const [best, band] = text.split(' (');
  return [
    element('b', {}, best!),
    band === undefined ? ' ' : [' ', element('span', { class: 'range' }, `(${band}`), ' '],
  ];
}

function small(text: string): Markup {
  return element('span', { class: 'small' }, text);
}

function litres({ p05, p50, p95 }: Quantity): Quantity {
  return p05 === undefined || p95 === undefined
    ? { p50: p50 / 1000 }
    : { p05: p05 / 1000, p50: p50 / 1000, p95: p95 / 1000 };
}
