/** A wash as the shop's recent ones were: their mean size, and the habits that most of them had. */
import { BASKET_ML, DRAG_ML_PER_M2, loadOf } from '../bath/load.ts';
import type { Shop } from '../bath/shop.ts';
import type { Entry, WashEvent } from '../ledger/event.ts';

/** The keys of a wash that say how, not what or whose. */
export const HABIT_KEYS = [
  'resin',
  'drained_min',
  'prerinse',
  'midrinse',
  'minutes',
  'agitation',
  'baths',
] as const;

export interface UsualWash {
  wash: Partial<WashEvent>;
  /** How many it is the mean of. */
  basis: number;
}

/** As many as make "recent" elsewhere. */
const RECENT = 20;

/** @returns undefined where none was counted yet */
export function usualWash(entries: readonly Entry[], shop: Shop): UsualWash | undefined {
  const recent = entries
    .flatMap(({ event }) => (event.what === 'wash' && !event.estimated ? [event] : []))
    .slice(-RECENT);
  if (recent.length === 0) return undefined;
  const habits = commonest(recent.map((wash) => JSON.stringify(HABIT_KEYS.map((key) => wash[key] ?? null))));
  const like = recent.findLast(
    (wash) => JSON.stringify(HABIT_KEYS.map((key) => wash[key] ?? null)) === habits,
  )!;
  const loads = recent.map((wash) => loadOf(wash, shop));
  const areaCm2 = mean(loads.map((load) => load.areaCm2));
  const volumes = loads.map((load) => load.volumeMl).filter(Number.isFinite);
  const dragMlPerM2 = mean(loads.map((load) => load.dragMl - BASKET_ML)) / (areaCm2 / 10_000);
  const isCup = dragMlPerM2 > (DRAG_ML_PER_M2.open + DRAG_ML_PER_M2.cup) / 2;
  return {
    wash: {
      ...(volumes.length > 0 ? { volume_ml: tenths(mean(volumes)) } : {}),
      area_cm2: tenths(areaCm2),
      ...Object.fromEntries(
        HABIT_KEYS.filter((key) => like[key] !== undefined).map((key) => [key, like[key]]),
      ),
      ...(isCup ? { hollow: true } : {}),
    },
    basis: recent.length,
  };
}

/** Of two as common, the later. */
function commonest(words: readonly string[]): string {
  const times = (word: string) => words.filter((one) => one === word).length;
  return words.reduce((most, word) => (times(word) >= times(most) ? word : most));
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length;
}

/** Whatever there was, it was not nothing. */
function tenths(value: number): number {
  return Math.max(0.1, Number(value.toFixed(1)));
}
