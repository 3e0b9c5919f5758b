/** The baths of one wash, a column a bath: before it, after it, what they were worth, how long the parts were in them. */
import type { Shop, Tub } from '../../bath/shop.ts';
import type { BathRecord, BathSeen, WashRecord } from '../../exchange/wash-records.ts';
import type { Quantity } from '../../outlook/quantity.ts';
import { judgeBath } from '../../outlook/verdict.ts';
import { banded, trim } from '../format.ts';
import { type Child, element, type Markup } from './markup.ts';
import { headOf, orDefault, rowOf } from './record-parts.ts';

interface Column {
  tub: Tub;
  bath: BathRecord;
  /** Its step in the route; -1 when the load did not go through it. */
  step: number;
}

export function recordBaths(record: WashRecord, shop: Shop): Markup {
  const columns = shop.tubs.map((tub, place): Column => {
    return { tub, bath: record.baths[place]!, step: record.load.baths.indexOf(place) };
  });
  const row = (label: string, of: (column: Column) => Child) => rowOf(label, columns.map(of));
  return element(
    'table',
    { class: 'baths' },
    element(
      'caption',
      {},
      'Baths before → after the wash, as the model estimates them; in brackets 5 to 95\u00a0%',
    ),
    headOf(['bath', ...shop.tubs.map(({ name }) => name)]),
    element(
      'tbody',
      {},
      row('parts in it', (column) => stay(column, record)),
      row(
        'resin, wt%',
        change(({ resinWtPct }) => figure(resinWtPct)),
      ),
      row(
        'water in solvent, wt%',
        change(({ waterWtPct }) => figure(waterWtPct)),
      ),
      row(
        'level, L',
        change(({ volumeMl }) => banded(litres(volumeMl))),
      ),
      row('out on the parts, mL', ({ step }) => (step < 0 ? '-' : banded(record.dragMl[step]!, 1))),
      row('verdict before', verdictBefore),
      row('limits of resin, wt%', ({ tub }) => limitsText(tub.limits.resin)),
      row('limits of water, wt%', ({ tub }) => limitsText(tub.limits.water)),
      row('age of solvent, days', ({ tub, bath: { ageDays } }) =>
        Number.isNaN(ageDays) ? '-' : `${trim(ageDays, 1)} of ${tub.limits.ageDays}`,
      ),
      row('washes since change', ({ bath: { washes } }) => `${washes} before this one`),
      row('readings since change', ({ bath }) => readingsText(bath)),
    ),
  );
}

function change(of: (seen: BathSeen) => string): (column: Column) => Child {
  return ({ bath: { before, after } }) => [
    element('span', { class: 'whole' }, of(before)),
    ' → ',
    element('span', { class: 'whole' }, of(after)),
  ];
}

function stay({ step }: Column, { event, minutes, fromDefaults }: WashRecord): Child {
  if (step < 0) return 'not in this wash';
  const nth = minutes.length > 1 ? `${['first', 'second', 'third'][step] ?? `number ${step + 1}`}, ` : '';
  const text = `${nth}${trim(minutes[step]!, 1)} min`;
  return orDefault(text, fromDefaults.includes('minutes') || event.minutes === undefined);
}

function figure(value: Quantity | null): string {
  return value ? banded(value) : 'empty';
}

function verdictBefore({ tub, bath: { before, ageDays } }: Column): string {
  const { resinWtPct, waterWtPct, beyondModel } = before;
  if (!resinWtPct || !waterWtPct) return 'empty';
  if (beyondModel) return 'stop: more water than the data reach, the figures cannot be trusted';
  const { verdict, because } = judgeBath({ resinWtPct, waterWtPct, ageDays }, tub.limits);
  return because === 'none' ? verdict : `${verdict}: ${because}`;
}

function limitsText([soon, change, never]: readonly [number, number, number]): string {
  return `soon ${trim(soon, 2)}, change ${trim(change, 2)}, never ${trim(never, 2)}`;
}

function readingsText({ readings, flagged }: BathRecord): string {
  if (readings === 0) return 'none';
  return flagged === 0 ? String(readings) : `${readings}, ${flagged} of them too far off for chance`;
}

function litres({ p05, p50, p95 }: Quantity): Quantity {
  return p05 === undefined || p95 === undefined
    ? { p50: p50 / 1000 }
    : { p05: p05 / 1000, p50: p50 / 1000, p95: p95 / 1000 };
}
