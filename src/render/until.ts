/**
 * What a shop uses up to a day, in a few lines and as data.
 */
import type { Shop } from '../bath/shop.ts';
import type { Quantity } from '../outlook/quantity.ts';
import type { Until } from '../outlook/until.ts';
import type { Line } from './echo.ts';
import { banded, count, volume } from './format.ts';
import { heldText, unknownLines } from './held.ts';

const MS_PER_DAY = 86_400_000;

interface View {
  until: Until;
  shop: Pick<Shop, 'currency'>;
  clockMs: number;
  /** A day in words. */
  day(ms: number): string;
}

/** The lines under those of the first limit. */
export function untilLines(view: View): Line[] {
  const { until, day } = view;
  const { parts, loads, solventMl, wasteMl, wasteG } = until;
  const inAll = parts.p50 > 0 ? `, ${banded(parts, 0)} parts` : '';
  return [
    ['until', `${day(until.toMs - 1)}, ${count(Math.ceil(until.days), 'day')}`],
    ['loads', `${banded(loads, 0)}${inAll}`],
    ['changes', changesText(until)],
    ['solvent', `${litres(solventMl)} L: ${poursText(until)}`],
    [
      'waste',
      `${litres(wasteMl)} L, ${banded(times(wasteG, 1e-3), 1)} kg: ignitable, into closed and labelled containers`,
    ],
    ['cost', costText(view)],
    ...stockLines(view),
    ...(until.best.stopped ? [['stops', stopsText(view)] as const] : []),
  ];
}

function changesText({ changes, best }: Until): string {
  const kinds = new Map<string, number>();
  for (const { action, baths } of best.changes) {
    const kind = action === 'rotate' ? 'rotate' : `refill ${baths.join(' and ')}`;
    kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  }
  const list = [...kinds].map(([kind, many]) => (kinds.size === 1 ? kind : `${many} × ${kind}`));
  return `${banded(changes, 0)}${list.length > 0 ? `: ${list.join(', ')}` : ''}`;
}

/** What the solvent goes into, in the best estimate. */
function poursText({ best }: Until): string {
  const { fillMl, makeUpMl } = sumsOf(best.changes);
  return `${volume(fillMl)} to fill, ${volume(makeUpMl)} to make up, ${volume(best.topUpMl)} to top up`;
}

function sumsOf(changes: Until['best']['changes']): { fillMl: number; makeUpMl: number } {
  return {
    fillMl: changes.reduce((sum, one) => sum + one.fillMl, 0),
    makeUpMl: changes.reduce((sum, one) => sum + one.makeUpMl, 0),
  };
}

function costText({ until: { cost, pricePerL, solvent }, shop }: View): string {
  if (cost === null || pricePerL === null) return `not known: ${solvent} has no price in the ledger`;
  const money = shop.currency ? `${shop.currency} ` : '';
  return `${money}${banded(cost, 0)}, ${solvent} at ${pricePerL.toFixed(2)} a litre; for waste the ledger has no price`;
}

function stockLines({ until: { stock, solvent }, clockMs, day }: View): Line[] {
  if (!stock) return [];
  const { onHandMl, shortMl, orderByDays } = stock;
  if (onHandMl === null || shortMl === null) return unknownLines(solvent);
  const held = heldText({ solvent, onHandMl });
  if (orderByDays === null) return [['on hand', `${held}, enough for it`]];
  const by = orderByDays <= 0 ? 'now' : `by ${day(clockMs + orderByDays * MS_PER_DAY)}`;
  const likely = shortMl.p50 > 0 ? 'less than it takes' : 'enough by the best estimate, not for sure';
  return [
    ['on hand', onHandMl < 0 ? held : `${held}, ${likely}`],
    ['order', `${litres(shortMl)} L ${by}, to have it when the stock may first fall short`],
  ];
}

function stopsText({ until: { best } }: View): string {
  return `short of that day: with these loads more would leave on the parts than a bath holds (${best.stopped!.why})`;
}

function litres(ml: Quantity): string {
  return banded(times(ml, 1e-3), 1);
}

function times({ p05, p50, p95 }: Quantity, by: number): Quantity {
  return { p05: (p05 ?? p50) * by, p50: p50 * by, p95: (p95 ?? p50) * by };
}

/** `data.until` of `bathbook/outlook/1`. */
export function untilDocument(
  { until, shop, clockMs }: Omit<View, 'day'>,
  time: (ms: number) => string,
): Record<string, unknown> {
  const { best, stock } = until;
  const { fillMl, makeUpMl } = sumsOf(best.changes);
  const ofKind = (kind: string) => best.changes.filter(({ action }) => action === kind).length;
  const date = (days: number) => time(clockMs + days * MS_PER_DAY);
  return {
    to: time(until.toMs),
    days: until.days,
    loads: until.loads,
    parts: until.parts,
    changes: until.changes,
    rotations: ofKind('rotate'),
    refills: ofKind('refill'),
    change_dates: best.changes.map(({ atMs, action, baths }) => ({ date: time(atMs), action, baths })),
    solvent_ml: until.solventMl,
    fill_ml: fillMl,
    make_up_ml: makeUpMl,
    top_up_ml: best.topUpMl,
    waste_ml: until.wasteMl,
    waste_g: until.wasteG,
    cost: until.cost,
    currency: shop.currency || null,
    price_per_l: until.pricePerL,
    stock: stock && {
      solvent: until.solvent,
      on_hand_ml: stock.onHandMl,
      short_ml: stock.shortMl,
      short_days: stock.shortDays,
      order_by: stock.orderByDays === null ? null : date(stock.orderByDays),
    },
    complete: best.stopped === null,
  };
}
