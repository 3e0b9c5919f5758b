/** Each world against the plain replay with that world's factors: it must be what the program would say if they were known. */
import { describe, expect, it } from 'vitest';
import { priorMedians, replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { type Bath, bathVolume, copyBath, resinMass } from '../../src/bath/state.ts';
import { SCATTER_MEAN } from '../../src/belief/factors.ts';
import { emptyWorld, moveWorld, roomFor, standWorld, washWorld } from '../../src/belief/world.ts';
import type { Header } from '../../src/ledger/header.ts';
import { type Draft, FILLED, headerOf, OPEN, PAIR, run } from '../bath/bench.ts';
import { believing } from './bench.ts';

const OPEN_PAIR = headerOf({ dirty: OPEN, clean: OPEN });

/** Three washes on each of `days` days, all brought at the mean of their scatter in the worlds. */
function days(from: number, count: number, wash: object = {}): Draft[] {
  return Array.from({ length: 3 * count }, (_, nth): Draft => {
    const hour = 24 * (from + Math.floor(nth / 3)) + 2 * (nth % 3);
    return { what: 'wash', parts: { model: 6 }, hour, ...wash } as Draft;
  });
}

const topUps = (hour: number): Draft[] =>
  ['dirty', 'clean'].map((bath) => ({ what: 'top-up', bath, solvent: 'ipa99', to: 'mark', hour }));

/** Largest relative difference of resin, IPA and water in either bath, over all worlds. */
function furthest(header: Header, drafts: readonly Draft[], clockHour: number): number {
  const { shop, entries, clockMs, belief } = believing(header, drafts, clockHour);
  let worst = 0;
  for (const world of belief.ensemble.worlds) {
    const factors = { ...world.factors, carry: SCATTER_MEAN * world.factors.carry };
    const { baths, refused } = replay(shop, entries, clockMs, { factors });
    expect(refused).toEqual([]);
    baths.forEach((bath, place) => {
      const other = world.baths[place]!;
      for (const of of [resinMass, (one: Bath) => one.ipaG, (one: Bath) => one.waterG])
        worst = Math.max(worst, Math.abs(of(other) / of(bath) - 1));
    });
  }
  return worst;
}

describe('every world against the plain replay with its factors', () => {
  // Measured in brackets: what comes of taking washes and the air between them together.
  it.each<[string, Header, Draft[], number]>([
    ['sixty washes in sealed tubs [0.0020]', PAIR, [...FILLED, ...days(0, 20)], 480],
    [
      'sixty washes, top-ups and a rotation in open tubs [0.0017]',
      OPEN_PAIR,
      [
        ...FILLED,
        ...days(0, 5),
        ...topUps(118),
        ...days(7, 5),
        ...topUps(286),
        { what: 'rotate', solvent: 'ipa99', hour: 300 },
        ...days(14, 5),
        ...topUps(454),
        ...days(21, 5),
      ],
      700,
    ],
    [
      'sixty washes of four kinds [0.0020]',
      OPEN_PAIR,
      [
        ...FILLED,
        ...days(0, 5, { agitation: 'stirred' }),
        ...days(5, 5, { parts: { splint: 3 }, midrinse: 'brush' }),
        ...days(10, 5, { parts: { 'hollow-model': 3 }, prerinse: 'spray' }),
        ...days(15, 5, { parts: { mask: 4 }, minutes: [2, 2] }),
      ],
      500,
    ],
    [
      'washes in one bath, a drain, liquid from clean, a refill [0.0028]',
      OPEN_PAIR,
      [
        ...FILLED,
        ...days(0, 5),
        ...days(5, 2, { baths: ['dirty'], minutes: [5] }),
        { what: 'drain', bath: 'dirty', ml: 800, hour: 170 },
        { what: 'top-up', bath: 'dirty', from: 'clean', ml: 700, hour: 170 },
        ...days(8, 3),
        { what: 'refill', bath: 'clean', solvent: 'ipa91', hour: 270 },
        ...days(12, 8),
      ],
      500,
    ],
  ])('%s: within 0.005', (name, header, drafts, clockHour) => {
    expect(furthest(header, drafts, clockHour), name).toBeLessThan(0.005);
  });

  it('to the last digit worth having where each wash stands alone', () => {
    // Carry-over and drag-out given: no wash joins another, and nothing of them is in doubt.
    const given = days(0, 10, { carry_g: 6, drag_ml: [11, 11] });
    const { belief, entries, shop, clockMs } = believing(PAIR, [...FILLED, ...given], 300);
    for (const world of belief.ensemble.worlds) {
      const { baths } = replay(shop, entries, clockMs, { factors: world.factors });
      baths.forEach((bath, place) => {
        expect(resinMass(world.baths[place]!) / resinMass(bath)).toBeCloseTo(1, 12);
      });
    }
  });
});

describe('a world in which what happened cannot have', () => {
  const shop = openShop(OPEN_PAIR);
  const world = () => emptyWorld(shop, priorMedians(shop));
  const on = (before: Bath[], move: object) => ({
    shop,
    move: { id: 'm', at: '', ...move } as Parameters<typeof moveWorld>[1]['move'],
    atMs: 0,
    before,
    solvent: 'ipa99',
  });
  const fill = (bath: string, ml: number) => ({ what: 'fill', bath, solvent: 'ipa99', ml });

  it('takes no load through a bath that would run dry, and is left as it was', () => {
    const one = world();
    moveWorld(one, on(one.baths.map(copyBath), fill('dirty', 100)));
    moveWorld(one, on(one.baths.map(copyBath), fill('clean', 100)));
    const before = one.baths.map(copyBath);
    const { load } = run(PAIR, [...FILLED, { what: 'wash', area_cm2: 50, drag_ml: [10, 200] }]).seen.at(-1)!;
    expect(washWorld(one, shop, load!, roomFor(shop))).toBeUndefined();
    expect(one.baths).toEqual(before);
    expect(washWorld(one, shop, { ...load!, givenDragMl: [10, 20] }, roomFor(shop))).toBeDefined();
  });

  it('drains all it holds where more was drained', () => {
    const one = world();
    moveWorld(one, on(one.baths.map(copyBath), fill('dirty', 500)));
    moveWorld(one, on(one.baths.map(copyBath), { what: 'drain', bath: 'dirty', ml: 800 }));
    expect(bathVolume(one.baths[0]!, shop.resins)).toBeCloseTo(0, 9);
  });

  it('pours over all of clean where more was poured', () => {
    const one = world();
    moveWorld(one, on(one.baths.map(copyBath), fill('clean', 500)));
    moveWorld(one, on(one.baths.map(copyBath), { what: 'top-up', bath: 'dirty', from: 'clean', ml: 800 }));
    expect(bathVolume(one.baths[0]!, shop.resins)).toBeCloseTo(500, 6);
    expect(bathVolume(one.baths[1]!, shop.resins)).toBeCloseTo(0, 9);
  });

  it('gets all that was poured from stock, however little clean holds', () => {
    const one = world();
    moveWorld(one, on(one.baths.map(copyBath), fill('clean', 500)));
    for (const more of [{}, { from: 'stock' }])
      moveWorld(one, on(one.baths.map(copyBath), { what: 'top-up', bath: 'dirty', ml: 800, ...more }));
    expect(bathVolume(one.baths[0]!, shop.resins)).toBeCloseTo(1600, 6);
    expect(bathVolume(one.baths[1]!, shop.resins)).toBeCloseTo(500, 6);
  });

  it('holds after a fill what was poured, whatever it held before: a bath is filled when it is empty', () => {
    const one = world();
    const empty = one.baths.map(copyBath);
    moveWorld(one, on(empty, fill('dirty', 500)));
    moveWorld(one, on(empty, fill('dirty', 3000)));
    expect(bathVolume(one.baths[0]!, shop.resins)).toBeCloseTo(3000, 6);
  });

  it('stands no time before the first event', () => {
    const one = world();
    moveWorld(one, on(one.baths.map(copyBath), fill('dirty', 4000)));
    const before = one.baths.map(copyBath);
    standWorld(one, shop, Number.NaN);
    standWorld(one, shop, 0);
    expect(one.baths).toEqual(before);
    standWorld(one, shop, 3_600_000);
    expect(one.baths[0]!.ipaG).toBeLessThan(before[0]!.ipaG);
  });
});

describe('what the level says', () => {
  it('after a top-up to the mark is the mark in every world, whatever evaporated', () => {
    const drafts: Draft[] = [...FILLED, ...topUps(24 * 60)];
    const { belief, shop } = believing(OPEN_PAIR, drafts);
    for (const { baths } of belief.ensemble.worlds)
      for (const bath of baths) {
        // A bath that has taken up water contracts a little as fresh solvent is poured in.
        expect(bathVolume(bath, shop.resins) / 4000).toBeCloseTo(1, 2);
        expect(bathVolume(bath, shop.resins)).toBeLessThanOrEqual(4000 * (1 + 1e-9));
      }
  });

  it('after a rotation or a refill, too', () => {
    const drafts: Draft[] = [...FILLED, { what: 'rotate', solvent: 'ipa99', hour: 24 * 60 }];
    const rotated = believing(OPEN_PAIR, drafts);
    const refilled = believing(OPEN_PAIR, [
      ...FILLED,
      { what: 'refill', bath: 'dirty', solvent: 'ipa99', hour: 24 * 60 },
      { what: 'refill', bath: 'clean', solvent: 'ipa99', hour: 24 * 60 },
    ]);
    for (const { belief, shop } of [rotated, refilled])
      for (const { baths } of belief.ensemble.worlds)
        for (const bath of baths) expect(bathVolume(bath, shop.resins) / 4000).toBeCloseTo(1, 2);
  });
});
