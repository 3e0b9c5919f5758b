/**
 * The stated date against the day on which the true baths of simulated shops meet their limit, a smaller version of
 * `npm run bench:honesty`. The simulator shares nothing with the code under test.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { state } from '../bench/honesty/dates-under-test.ts';
import { type DateCell, dateHonesty, plusMinus } from '../bench/honesty/honesty.mjs';

const SHOPS = 120;
let cells: DateCell[];
let problems: string[];

beforeAll(() => {
  ({ cells, problems } = dateHonesty({ state, seed: 5, shops: SHOPS }));
}, 120_000);

const all = () => cells.filter(({ name }) => name === 'all');

describe('the date of the change, in shops drawn from the priors', () => {
  it('is stated for every shop, with 0, 1 and 3 readings', () => {
    expect(problems).toEqual([]);
    expect(all().map(({ readings, shops }) => [readings, shops])).toEqual([0, 1, 3].map((n) => [n, SHOPS]));
  });

  it('has the true day within its range in nine of ten shops, as chance allows', () => {
    // The goal is 85–95 %, and what chance adds over so many shops, 5.4 %.
    const chance = plusMinus(0.9, SHOPS);
    for (const { readings, cover90 } of all()) {
      expect(cover90, `${readings} readings`).toBeGreaterThan(0.85 - chance);
      expect(cover90, `${readings} readings`).toBeLessThan(Math.min(0.999, 0.95 + chance));
    }
  });

  it('misses on either side about as often', () => {
    // One in twenty each way, and 3.9 % by chance; 5 % more for a median that is not the best estimate.
    const most = 0.1 + plusMinus(0.05, SHOPS);
    for (const { readings, early, late } of all()) {
      expect(early, `${readings} readings`).toBeLessThan(most);
      expect(late, `${readings} readings`).toBeLessThan(most);
    }
  });

  it('has its middle between a half and two thirds of the true days, as chance allows', () => {
    // p50 is the best estimate. It lies late of the median, since of two baths whichever is sooner counts.
    for (const { readings, beforeMiddle } of all()) {
      expect(beforeMiddle, `${readings} readings`).toBeGreaterThan(0.5 - plusMinus(0.5, SHOPS));
      expect(beforeMiddle, `${readings} readings`).toBeLessThan(2 / 3 + plusMinus(2 / 3, SHOPS));
    }
  });

  it('comes nearer to the truth as readings come', () => {
    const [none, one, three] = all().map(({ width }) => width);
    expect(one).toBeLessThan(none!);
    expect(three).toBeLessThan(one!);
    expect(three).toBeLessThan(0.9 * none!);
  });
});
