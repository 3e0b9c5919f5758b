import { describe, expect, it } from 'vitest';
import { carryOf } from '../../src/bath/wash.ts';
import { meanLoad } from '../../src/outlook/mean-load.ts';
import { type Draft, FILLED, headerOf, PAIR, run } from '../bath/bench.ts';

const header = headerOf(
  { dirty: {}, clean: {} },
  { resins: { thick: { density_g_ml: 1.4, viscosity_mpa_s: 1500 } } },
);
const of = (...washes: Draft[]) => {
  const { replayed, shop } = run(header, [...FILLED, ...washes]);
  return { mean: meanLoad(replayed, shop), recent: replayed.recent, shop };
};
const wash = (more: object): Draft => ({ what: 'wash', parts: { model: 6 }, ...more }) as Draft;

describe('the mean of recent washes', () => {
  it('is none without one', () => {
    expect(of().mean).toBeNull();
  });

  it('of washes alike is that wash', () => {
    const { mean, recent } = of(wash({}), wash({}), wash({}));
    expect(mean!.basis).toBe(3);
    expect(mean!.load).toEqual({ ...recent[0]!.load, parts: 6 });
  });

  it('is the arithmetic mean of parts, surface, film, soak and drag-out', () => {
    const { mean, recent } = of(
      wash({ parts: { model: 2 }, minutes: [3, 4] }),
      wash({ parts: { model: 10 }, minutes: [5, 10], agitation: 'hand' }),
    );
    const [one, other] = recent.map(({ load }) => load);
    expect(mean!.load.parts).toBe(6);
    expect(mean!.load.areaCm2).toBeCloseTo((one!.areaCm2 + other!.areaCm2) / 2, 9);
    expect(mean!.load.filmG).toBeCloseTo((one!.filmG + other!.filmG) / 2, 12);
    expect(mean!.load.dragMl).toBeCloseTo((one!.dragMl + other!.dragMl) / 2, 12);
    // 3 and 4 min of τ 6, 5 and 10 min of τ 3.5.
    expect(mean!.load.soaks[0]!).toBeCloseTo((3 / 6 + 5 / 3.5) / 2, 12);
    expect(mean!.load.soaks[1]!).toBeCloseTo((4 / 6 + 10 / 3.5) / 2, 12);
  });

  it('brings as much as its washes did on average, rinsed, trapped or weighed, at any carry-over factor', () => {
    const { mean, recent } = of(
      wash({ prerinse: 'spray' }),
      wash({ trapped_g: 3 }),
      wash({ carry_g: 20 }),
      wash({}),
    );
    for (const factor of [0.5, 1, 2]) {
      const all = recent.map(({ load }) => carryOf(load, factor).carryG);
      expect(carryOf(mean!.load, factor).carryG).toBeCloseTo(all.reduce((sum, one) => sum + one, 0) / 4, 9);
    }
  });

  it('has the rinses between baths averaged', () => {
    expect(of(wash({ midrinse: 'spray' }), wash({})).mean!.load.midrinseShare).toBeCloseTo(0.3, 12);
  });

  it('takes drag-out as it was where some of it was measured', () => {
    const { mean, recent } = of(wash({}), wash({ drag_ml: [30, 20] }));
    const [first] = recent;
    expect(mean!.load.givenDragMl![0]!).toBeCloseTo((first!.outcome.dragMl[0]! + 30) / 2, 12);
    expect(mean!.load.givenDragMl![1]!).toBeCloseTo((first!.outcome.dragMl[1]! + 20) / 2, 12);
    expect(of(wash({}), wash({})).mean!.load.givenDragMl).toBeUndefined();
  });

  it('is of the resin that brought most, not of the commonest', () => {
    const { mean, shop } = of(wash({}), wash({}), wash({ resin: 'thick', carry_g: 40 }));
    expect(mean!.load.resin).toBe(shop.resinPlace.get('thick'));
    expect(of(wash({}), wash({}), wash({ resin: 'thick', carry_g: 1 })).mean!.load.resin).toBe(
      shop.resinPlace.get('standard'),
    );
  });

  it('is of the washes that went the way of most, of two as common the later', () => {
    const one = wash({ baths: ['dirty'], minutes: [5], parts: { die: 2 } });
    expect(of(wash({}), wash({}), one).mean).toMatchObject({ basis: 2, load: { parts: 6, baths: [0, 1] } });
    expect(of(wash({}), one).mean).toMatchObject({ basis: 1, load: { parts: 2, baths: [0] } });
    expect(of(one, wash({})).mean).toMatchObject({ basis: 1, load: { parts: 6, baths: [0, 1] } });
  });

  it('is of the last twenty', () => {
    const small = Array.from({ length: 30 }, () => wash({ parts: { model: 1 } }));
    const large = Array.from({ length: 20 }, () => wash({ parts: { model: 8 } }));
    expect(of(...small, ...large).mean).toMatchObject({ basis: 20, load: { parts: 8 } });
  });

  it('leaves the washes as they were', () => {
    const { replayed, shop } = run(PAIR, [...FILLED, wash({}), wash({ carry_g: 3 })]);
    const before = structuredClone(replayed.recent);
    meanLoad(replayed, shop);
    expect(replayed.recent).toEqual(before);
  });
});
