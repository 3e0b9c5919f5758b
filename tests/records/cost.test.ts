/** Cost by hand: litres times price, shared among washes and parts. */
import { describe, expect, it } from 'vitest';
import { costOf } from '../../src/records/cost.ts';
import { type Draft, FILLED, headerOf } from '../bath/bench.ts';
import { at, recordsOf } from './bench.ts';

const PRICED = headerOf(
  { dirty: {}, clean: {} },
  { solvents: { ipa99: { ipa_wt_pct: 99.5, price_per_l: 6.5 } } },
);
const WASHES: Draft[] = [
  { what: 'wash', parts: { model: 6 }, hour: 1 },
  { what: 'wash', parts: { model: 3, mask: 1 }, hour: 2 },
];
const ALL = { fromMs: at(-1), toMs: at(100) };

function cost(drafts: Draft[], { header = PRICED, period = ALL } = {}) {
  const { movements, stock } = recordsOf(drafts, { header });
  return costOf(movements, stock, period);
}

describe('cost', () => {
  it('is 8 L at 6.50 by two washes and ten parts', () => {
    expect(cost([...FILLED, ...WASHES])).toEqual({
      pouredMl: 8000,
      money: 52,
      unpriced: [],
      washes: 2,
      parts: 10,
      uncountedWashes: 0,
      perWash: 26,
      perPart: 5.2,
    });
  });

  it('takes each solvent at its own price', () => {
    const received: Draft = { what: 'stock', solvent: 'ipa91', received_ml: 4000, price: 12 };
    const topUp: Draft = { what: 'top-up', bath: 'dirty', solvent: 'ipa91', ml: 500, hour: 3 };
    // 8 L at 6.50 and 0.5 L at 3.
    expect(cost([received, ...FILLED, ...WASHES, topUp]).money).toBeCloseTo(53.5, 12);
  });

  it('is not known when a solvent that was poured has no price: nothing is free', () => {
    const topUp: Draft = { what: 'top-up', bath: 'dirty', solvent: 'ipa70', ml: 500, hour: 3 };
    expect(cost([...FILLED, ...WASHES, topUp])).toMatchObject({
      pouredMl: 8500,
      money: null,
      unpriced: ['ipa70'],
      perWash: null,
      perPart: null,
    });
  });

  it('counts the period after its start, up to and including its end', () => {
    const period = { fromMs: at(0), toMs: at(2) };
    const topUps: Draft[] = [
      { what: 'top-up', bath: 'dirty', solvent: 'ipa99', ml: 1000, hour: 2 },
      { what: 'top-up', bath: 'dirty', solvent: 'ipa99', ml: 100, hour: 3 },
    ];
    // The fills lie at the start, the last top-up after the end.
    expect(cost([...FILLED, ...WASHES, ...topUps], { period })).toMatchObject({ money: 6.5, perWash: 3.25 });
  });

  it('has nothing to share without pours, washes or parts', () => {
    const period = { fromMs: at(0), toMs: at(50) };
    expect(cost([...FILLED, ...WASHES], { period })).toMatchObject({
      money: 0,
      perWash: null,
      perPart: null,
    });
    expect(cost(FILLED)).toMatchObject({ money: 52, perWash: null, perPart: null });
    const uncounted: Draft = { what: 'wash', area_cm2: 100, hour: 1 };
    expect(cost([...FILLED, uncounted])).toMatchObject({ perWash: 52, perPart: null, uncountedWashes: 1 });
  });

  it('leaves out washes that could not be', () => {
    const none: Draft = { what: 'wash', parts: { model: 4 } };
    expect(cost([none, ...FILLED, ...WASHES])).toMatchObject({ washes: 2, parts: 10 });
  });
});
