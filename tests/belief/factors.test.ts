import { describe, expect, it } from 'vitest';
import { priorMedians } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import {
  axesOf,
  copyFactors,
  factorOn,
  PRIOR_SD,
  SCATTER_MEAN,
  setFactor,
  WASH_SCATTER,
} from '../../src/belief/factors.ts';
import { headerOf, OPEN, PAIR } from '../bath/bench.ts';
import { meanOf, normalFrom } from './bench.ts';

describe('what is known before any reading', () => {
  it('is the table of MODEL, section 6', () => {
    expect(PRIOR_SD).toEqual({ carry: 0.45, drag: 0.5, dissolution: 0.35, evaporation: 0.7, moisture: 0.7 });
    expect(WASH_SCATTER).toBe(0.25);
  });

  it('has a mean of the scatter 3 % above its median, by a million draws', () => {
    const normal = normalFrom(5);
    const mean = meanOf(Array.from({ length: 1_000_000 }, () => Math.exp(0.25 * normal())));
    // Standard error 0.26/1000.
    expect(Math.abs(SCATTER_MEAN - mean)).toBeLessThan(0.0008);
  });
});

describe('the factors that are not known', () => {
  it('are three of the shop and two of each tub', () => {
    const axes = axesOf(openShop(headerOf({ dirty: OPEN, clean: OPEN })));
    expect(axes.map(({ name, tub }) => [name, tub])).toEqual([
      ['carry', undefined],
      ['drag', undefined],
      ['dissolution', undefined],
      ['evaporation', 0],
      ['moisture', 0],
      ['evaporation', 1],
      ['moisture', 1],
    ]);
  });

  it('leave out those that are switched off', () => {
    const names = (header: Parameters<typeof openShop>[0]) =>
      axesOf(openShop(header)).map(({ name }) => name);
    expect(names(PAIR)).toEqual(['carry', 'drag', 'dissolution']);
    expect(names(headerOf({ dirty: {}, clean: { evaporation: 2 } }, { factors: { drag: 0 } }))).toEqual([
      'carry',
      'dissolution',
      'evaporation',
    ]);
  });

  it('are read and set one by one, in a copy without touching the rest', () => {
    const shop = openShop(headerOf({ dirty: OPEN, clean: OPEN }));
    const factors = priorMedians(shop);
    const other = copyFactors(factors);
    axesOf(shop).forEach((axis, place) => {
      setFactor(other, axis, place + 2);
    });
    expect(axesOf(shop).map((axis) => factorOn(other, axis))).toEqual([2, 3, 4, 5, 6, 7, 8]);
    expect(axesOf(shop).map((axis) => factorOn(factors, axis))).toEqual([1, 1, 1, 1, 1, 1, 1]);
  });
});
