import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Load, loadOf } from '../../src/bath/load.ts';
import { openShop } from '../../src/bath/shop.ts';
import { joined, type Lump, lumpOf } from '../../src/belief/lump.ts';
import type { WashEvent } from '../../src/ledger/event.ts';
import { headerOf } from '../bath/bench.ts';

const DAY = 86_400_000;
/** Mean of a wash's own scatter, e^(0.25²/2). */
const MEAN = Math.exp(0.03125);
const shop = openShop(
  headerOf({ dirty: {}, clean: { mark_ml: 2000 } }, { resins: { dense: { density_g_ml: 1.4 } } }),
);
const load = (more: object = {}): Load =>
  loadOf({ what: 'wash', id: 'w', at: '', parts: { model: 6 }, ...more } as WashEvent, shop);

describe('a lump of washes', () => {
  it('of one is that wash, at the mean of its scatter, and leaves the load as it is', () => {
    const one = load({ prerinse: 'spray', trapped_g: 2 });
    const kept = structuredClone(one);
    const lump = lumpOf(one, 5);
    // A spray takes off 0.6 of the film.
    const mean = MEAN * (0.4 * one.filmG + 2);
    expect(lump.carryG).toBeCloseTo(mean, 12);
    expect(lump.carrySquareG2).toBeCloseTo(mean ** 2, 12);
    expect(lump.load.filmG * (1 - lump.load.prerinseShare)).toBeCloseTo(MEAN * 0.4 * one.filmG, 12);
    expect(lump.load.trappedG).toBeCloseTo(2 * MEAN, 12);
    expect(lump).toMatchObject({ firstMs: 5, lastMs: 5 });
    expect(one).toEqual(kept);
  });

  it('brings what its washes bring together, drains from them together, and knows how many they are', () => {
    const sizes = fc.array(fc.integer({ min: 10, max: 90 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(sizes, (areas) => {
        const loads = areas.map((area_cm2, nth) =>
          load({ parts: undefined, area_cm2, drained_min: 1 + 5 * nth }),
        );
        const lump = lumpOf(loads[0]!, 0);
        const took = loads.slice(1).map((one, nth) => joined(lump, one, nth * 1000, shop));
        expect(took.every(Boolean)).toBe(true);
        const sum = (of: (one: Load) => number) => loads.reduce((all, one) => all + of(one), 0);
        expect(lump.carryG).toBeCloseTo(MEAN * sum(({ filmG }) => filmG), 9);
        expect(lump.carrySquareG2).toBeCloseTo(MEAN ** 2 * sum(({ filmG }) => filmG ** 2), 9);
        expect(lump.load.dragMl).toBeCloseTo(
          sum(({ dragMl }) => dragMl),
          9,
        );
        expect(lump.load.areaCm2).toBeCloseTo(
          sum(({ areaCm2 }) => areaCm2),
          9,
        );
        expect(lump.load.times ?? 1).toBe(loads.length);
      }),
    );
  });

  it.each<[string, object]>([
    ['another resin', { resin: 'dense' }],
    ['another soak', { minutes: [5, 6] }],
    ['another way of stirring', { agitation: 'stirred' }],
    ['other baths', { baths: ['dirty'], minutes: [5] }],
    ['the other way round', { baths: ['clean', 'dirty'], minutes: [5, 5] }],
    ['a rinse between', { midrinse: 'spray' }],
    ['a carry-over given', { carry_g: 5 }],
    ['a drag-out given', { drag_ml: [8, 8] }],
  ])('takes no wash with %s, nor does such a one take it', (_, more) => {
    for (const [first, second] of [
      [load(), load(more)],
      [load(more), load()],
    ] as const) {
      const lump = lumpOf(first, 0);
      const before = structuredClone(lump);
      expect(joined(lump, second, 0, shop)).toBe(false);
      expect(lump).toEqual(before);
    }
  });

  it('takes washes of four days, and no longer', () => {
    expect(joined(lumpOf(load(), 0), load(), 4 * DAY, shop)).toBe(true);
    expect(joined(lumpOf(load(), 0), load(), 4 * DAY + 1, shop)).toBe(false);
  });

  it('carries out no more than 6 % of the smaller tub, 120 of 2000 mL, unless one wash does', () => {
    const lump: Lump = lumpOf(load(), 0);
    let last = lump.load.dragMl;
    while (joined(lump, load(), 0, shop)) last = lump.load.dragMl;
    expect(last).toBeLessThanOrEqual(120);
    expect(last + load().dragMl).toBeGreaterThan(120);
    expect(joined(lumpOf(load({ parts: { model: 300 } }), 0), load(), 0, shop)).toBe(false);
  });
});
