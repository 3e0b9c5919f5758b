/**
 * The stock of a solvent against what is poured up to a day.
 */
import { bandOf } from '../belief/band.ts';
import type { Ensemble } from '../belief/ensemble.ts';
import type { Stock } from '../records/stock.ts';
import type { Quantity } from './quantity.ts';
import type { Course } from './until-run.ts';

export interface NeedOfStock {
  /** Null until the ledger was told of stock. */
  onHandMl: number | null;
  /** By how much it falls short; null where it is not known what is on hand. */
  shortMl: Quantity | null;
  /** Days from the clock to the first pour for which there is too little; null where it lasts even at the 95 % point. */
  shortDays: Quantity | null;
  /** Days from the clock by which to order, so that it comes before the early end of that day. */
  orderByDays: number | null;
}

const MS_PER_DAY = 86_400_000;

/** @param leadDays - from the order to the delivery */
export function needOf(
  solventMl: Quantity,
  on: {
    stock: Pick<Stock, 'onHandMl'> | undefined;
    best: Course;
    worlds: readonly Course[];
    ensemble: Ensemble;
    clockMs: number;
    toMs: number;
    leadDays: number;
  },
): NeedOfStock {
  const onHandMl = on.stock?.onHandMl ?? null;
  if (onHandMl === null) return { onHandMl, shortMl: null, shortDays: null, orderByDays: null };
  const short = (ml: number) => Math.max(0, ml - onHandMl);
  const { p05, p50, p95 } = solventMl;
  const shortMl = { p05: short(p05 ?? p50), p50: short(p50), p95: short(p95 ?? p50) };
  if (shortMl.p95 === 0) return { onHandMl, shortMl, shortDays: null, orderByDays: null };
  const days = (course: Course) => daysUntilShort(course, onHandMl, on);
  const band = bandOf(on.ensemble, { best: days(on.best), values: on.worlds.map(days) });
  const shortDays = { ...band, p05: Math.max(0, band.p05) };
  return { onHandMl, shortMl, shortDays, orderByDays: shortDays.p05 - on.leadDays };
}

/** To the first pour for which too little is left; where it lasts beyond the end, at the rate until then, and ten times as long at most. */
function daysUntilShort(
  { pours, pouredMl }: Course,
  onHandMl: number,
  { clockMs, toMs }: { clockMs: number; toMs: number },
): number {
  let left = onHandMl;
  for (const { atMs, ml } of pours) {
    left -= ml;
    if (left < 0) return (atMs - clockMs) / MS_PER_DAY;
  }
  const all = (toMs - clockMs) / MS_PER_DAY;
  return all * Math.min(10, Math.max(1, pouredMl > 0 ? onHandMl / pouredMl : 10));
}
