import { describe, expect, it } from 'vitest';
import { priorMedians } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { ipaFraction, resinFraction } from '../../src/bath/state.ts';
import type { Header } from '../../src/ledger/header.ts';
import { loadsLeft } from '../../src/outlook/loads-left.ts';
import { type Draft, FILLED, headerOf, PAIR, run } from '../bath/bench.ts';

function left(header: Header, drafts: readonly Draft[]) {
  const { replayed, shop } = run(header, drafts);
  return loadsLeft(shop, replayed, priorMedians(shop));
}

/** Counts by logging the same wash again and again, until a bath is at its limit or the wash cannot be. */
function byLogging(header: Header, drafts: readonly Draft[]): number {
  const wash = drafts.at(-1)!;
  const again = Array.from({ length: 1200 }, () => wash);
  const { tubs } = openShop(header);
  const { seen, replayed } = run(header, [...drafts, ...again]);
  const logged = seen.filter(({ entry }) => entry.place >= drafts.length);
  const over = logged.findIndex(({ baths }) =>
    baths.some(
      (bath, place) =>
        100 * resinFraction(bath) >= tubs[place]!.limits.resin[1] ||
        100 * (1 - ipaFraction(bath)) >= tubs[place]!.limits.water[1],
    ),
  );
  if (over >= 0) return over;
  expect(replayed.refused.length).toBeGreaterThan(0);
  return logged.length;
}

const washes = (count: number, wash: Draft): Draft[] => [
  ...FILLED,
  ...Array.from({ length: count }, () => wash),
];

describe('loads left of a uniform history', () => {
  it.each<[string, Draft]>([
    ['six models with the defaults', { what: 'wash', parts: { model: 6 } }],
    ['straight from the printer', { what: 'wash', parts: { model: 6 }, drained_min: 0 }],
    ['hollow models, stirred', { what: 'wash', parts: { 'hollow-model': 4 }, agitation: 'stirred' }],
    [
      'rinsed before and between',
      { what: 'wash', parts: { model: 12 }, prerinse: 'spray', midrinse: 'brush' },
    ],
    ['trapped resin', { what: 'wash', parts: { splint: 3 }, trapped_g: 4 }],
    ['carry-over and drag-out given', { what: 'wash', area_cm2: 300, carry_g: 9, drag_ml: [20, 12] }],
    ['a short soak', { what: 'wash', parts: { model: 8 }, minutes: [1, 2] }],
    ['another resin', { what: 'wash', parts: { model: 8 }, resin: 'thick' }],
    ['more film than a bath can give', { what: 'wash', area_cm2: 300, carry_g: 0.1, drag_ml: [300, 100] }],
  ])('%s: as counted by logging the wash again and again', (_, wash) => {
    const header = headerOf(
      { dirty: {}, clean: {} },
      { resins: { thick: { density_g_ml: 1.4, viscosity_mpa_s: 1500 } } },
    );
    for (const count of [1, 7, 25]) {
      const drafts = washes(count, wash);
      const found = left(header, drafts)!;
      expect(found.loads).toBe(byLogging(header, drafts));
      const possible = run(header, drafts).seen.length - FILLED.length;
      expect(found.basis).toBe(Math.min(20, possible));
    }
  });

  it('names the bath and what decided', () => {
    expect(left(PAIR, washes(1, { what: 'wash', parts: { model: 6 } }))).toMatchObject({ because: 'resin' });
    const dry = left(PAIR, washes(1, { what: 'wash', area_cm2: 100, carry_g: 0.01, drag_ml: [500, 10] }));
    expect(dry).toMatchObject({ bath: 'dirty', because: 'level', loads: 7 });
  });

  it('is none at or past the limit', () => {
    const over = left(PAIR, washes(1, { what: 'wash', area_cm2: 100, carry_g: 800, drag_ml: [5, 5] }));
    expect(over!.loads).toBe(0);
  });

  it('goes with the limits of the shop', () => {
    const drafts = washes(3, { what: 'wash', parts: { model: 6 } });
    const strict = headerOf({ dirty: {}, clean: {} }, { shop: { parts_use: 'body-contact' } });
    expect(left(strict, drafts)!.loads).toBeLessThan(left(PAIR, drafts)!.loads);
  });
});

describe('what the count rests on', () => {
  it('is nothing without a wash, or with a bath of the route empty', () => {
    expect(left(PAIR, FILLED)).toBeNull();
    const wash: Draft = { what: 'wash', parts: { model: 6 } };
    expect(left(PAIR, [...washes(2, wash), { what: 'drain', bath: 'clean', all: true }])).toBeNull();
  });

  it('is the last twenty washes, and of those the ones that went the way of most', () => {
    const both: Draft = { what: 'wash', parts: { model: 6 } };
    const one: Draft = { what: 'wash', parts: { die: 2 }, baths: ['dirty'], minutes: [5] };
    const mixed = [...FILLED, ...Array.from({ length: 30 }, () => both), one, one, one, both];
    expect(left(PAIR, mixed)).toMatchObject({ basis: 17, partsPerLoad: 6 });
    expect(left(PAIR, [...mixed, one])).toMatchObject({ basis: 16, partsPerLoad: 6 });
    const turned = [...mixed, ...Array.from({ length: 12 }, () => one)];
    expect(left(PAIR, turned)).toMatchObject({ basis: 15, partsPerLoad: 2 });
  });

  it('lies between the counts of the loads it is the mean of', () => {
    const small: Draft = { what: 'wash', parts: { model: 2 } };
    const large: Draft = { what: 'wash', parts: { model: 10 } };
    const mixed = Array.from({ length: 20 }, (_, at) => (at % 2 === 0 ? small : large));
    const loads = left(PAIR, [...FILLED, ...mixed])!;
    expect(loads.partsPerLoad).toBe(6);
    expect(loads.loads).toBeGreaterThan(left(PAIR, washes(20, large))!.loads);
    expect(loads.loads).toBeLessThan(left(PAIR, washes(20, small))!.loads);
  });

  it('leaves baths and tallies of the replay as they are', () => {
    const { replayed, shop } = run(PAIR, washes(3, { what: 'wash', parts: { model: 6 } }));
    const before = structuredClone({ baths: replayed.baths, tally: replayed.tally });
    loadsLeft(shop, replayed, priorMedians(shop));
    expect({ baths: replayed.baths, tally: replayed.tally }).toEqual(before);
  });
});
