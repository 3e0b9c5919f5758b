/**
 * The days to come one by one, and a day's loads going through baths that are not the ledger's own.
 */
import { stand } from '../bath/air.ts';
import type { Load } from '../bath/load.ts';
import type { AllFactors } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, copyBath } from '../bath/state.ts';
import { emptyTally, type Tally } from '../bath/tally.ts';
import { type WashRefusal, washLoad } from '../bath/wash.ts';
import { manyOf } from './ahead.ts';
import type { Days, Pace } from './pace.ts';

/** What is left of a day, or all of it. */
export interface DayAhead {
  startMs: number;
  endMs: number;
  /** Need not be a whole number: what is asked is how much, on average. */
  loads: number;
}

/** Baths of one way things may be, on their way ahead; changed in place. */
export interface Going {
  shop: Shop;
  baths: Bath[];
  factors: AllFactors;
  tally: Tally;
}

const MS_PER_HOUR = 3_600_000;
/** Up to so many loads a day go one by one; more are taken together in so many equal parts. */
const MOST_PARTS = 8;

/** From the clock to the end of the day in which `toMs` lies, or which ends at it. */
export function daysAhead(fromMs: number, toMs: number, on: { pace: Pace; days: Days }): DayAhead[] {
  const { pace, days } = on;
  const list: DayAhead[] = [];
  for (let startMs = fromMs; startMs < toMs; ) {
    const endMs = days.next(days.startOf(startMs));
    const loads = startMs === fromMs ? pace.today : pace.loads[days.weekday(startMs)]!;
    list.push({ startMs, endMs, loads });
    startMs = endMs;
  }
  return list;
}

/** Lets every bath stand for a day. */
export function standDay({ shop, baths, factors, tally }: Going, { startMs, endMs }: DayAhead): void {
  baths.forEach((bath, place) => {
    const hours = (endMs - startMs) / MS_PER_HOUR;
    const lost = stand(bath, shop.tubs[place]!, shop.resins, hours, factors.air[place]!);
    tally.air.ipa += lost.ipaG;
    tally.air.water += lost.waterG;
  });
}

/** The loads of a day in equal parts, each a load or a few: how many parts, and how many loads in one. */
export function partsOfDay({ loads }: DayAhead): { parts: number; each: number } {
  const parts = Math.min(MOST_PARTS, Math.ceil(loads));
  return { parts, each: parts === 0 ? 0 : loads / parts };
}

/** So many loads through the baths. @returns why they cannot go, in which case the baths may be half-changed */
export function washMany(going: Going, load: Load, loads: number): WashRefusal | undefined {
  const { baths, shop, factors, tally } = going;
  const outcome = washLoad(baths, manyOf(load, loads), shop, factors, tally);
  return 'why' in outcome ? outcome : undefined;
}

/** A tally that starts at nothing, for what goes on from here. */
export function goingFrom(shop: Shop, from: { baths: readonly Bath[]; factors: AllFactors }): Going {
  return { shop, baths: from.baths.map(copyBath), factors: from.factors, tally: emptyTally() };
}
