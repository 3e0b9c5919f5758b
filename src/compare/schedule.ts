/**
 * The washes of a year, drawn: how many on each day, which loads, and how each scatters about what the factors say.
 */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { mersenne } from 'pure-rand/generator/mersenne';
import { WASH_SCATTER } from '../belief/factors.ts';

/** 52 weeks, so that one year can follow another. */
export const YEAR_DAYS = 364;

export interface Schedule {
  /** For each day, Sunday first, the place of its first wash in `load` and `scatter`; one more at the end. */
  starts: Int32Array;
  /** Which of the plant's loads. */
  load: Int32Array;
  /** What multiplies that load's resin: log-normal, median 1. */
  scatter: Float64Array;
}

/** Numbers from 0 to 1, 1 left out: the Mersenne twister, whose seeds one apart have nothing in common. */
export function drawer(seed: number): () => number {
  const source = mersenne(seed);
  return () => uniformFloat64(source);
}

/**
 * A standard normal number, by Box and Muller: sqrt(−2 ln u) cos 2πv.
 *
 * @see BOXMULLER
 */
export function normal(draw: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
}

/**
 * Draws a year. A weekday that brings 2.4 loads on average brings 2 or 3 on each of its days; each load is one of those the shop
 * had lately, with the same chance.
 *
 * @param on.perDay - mean loads by weekday, Sunday first
 * @param on.loads - how many kinds of load there are, 1 or more
 */
export function scheduleOf(on: { seed: number; perDay: readonly number[]; loads: number }): Schedule {
  const draw = drawer(on.seed);
  const starts = new Int32Array(YEAR_DAYS + 1);
  for (let day = 0; day < YEAR_DAYS; day += 1) {
    const mean = on.perDay[day % 7]!;
    const whole = Math.floor(mean);
    starts[day + 1] = starts[day]! + whole + (draw() < mean - whole ? 1 : 0);
  }
  const washes = starts[YEAR_DAYS]!;
  const load = Int32Array.from({ length: washes }, () => Math.floor(draw() * on.loads));
  const scatter = Float64Array.from({ length: washes }, () => Math.exp(WASH_SCATTER * normal(draw)));
  return { starts, load, scatter };
}
