/**
 * What people of the trade know, as checks that the model says the same. Every fact here is common practice, no source,
 * unless its line names one: they bound the model, and prove no figure of it.
 */
import { describe, expect, it } from 'vitest';
import { DISSOLUTION_MIN } from '../../src/bath/load.ts';
import { openShop } from '../../src/bath/shop.ts';
import { bathDensity, resinFraction, resinMass } from '../../src/bath/state.ts';
import type { WashEvent } from '../../src/ledger/event.ts';
import { type Draft, FILLED, headerOf, PAIR, run } from '../bath/bench.ts';

type Wash = Omit<WashEvent, 'id' | 'at'>;

/** Resin that one load brings into the first bath, g. */
function carried(wash: Omit<Wash, 'what'>, header = PAIR): number {
  const { seen } = run(header, [...FILLED, { what: 'wash', ...wash }]);
  return seen.at(-1)!.wash!.carryG;
}

/** Loads until a bath of the pair comes to its change limit, the level kept after each. */
function life(wash: Omit<Wash, 'what'>, header = PAIR): number {
  const { tubs } = openShop(header);
  const load: Draft[] = [
    { what: 'wash', ...wash },
    { what: 'top-up', bath: 'dirty', solvent: 'ipa99', to: 'mark' },
    { what: 'top-up', bath: 'clean', solvent: 'ipa99', to: 'mark' },
  ];
  const { seen } = run(header, [...FILLED, ...Array.from({ length: 2000 }, () => load).flat()]);
  const washes = seen.filter((step) => step.wash);
  const last = washes.findIndex(({ baths }) =>
    baths.some((bath, place) => 100 * resinFraction(bath) >= tubs[place]!.limits.resin[1]),
  );
  expect(last).toBeGreaterThan(0);
  return last;
}

describe('soaking', () => {
  it('about five minutes in each of two baths', () => {
    expect(openShop(PAIR).defaults.minutes).toEqual([5, 5]);
  });

  it('five agitated minutes take off about nine tenths, 0.80 to 0.98', () => {
    for (const agitation of ['stirred', 'ultrasonic'] as const) {
      const share = 1 - Math.exp(-5 / DISSOLUTION_MIN[agitation]);
      expect(share).toBeGreaterThan(0.8);
      expect(share).toBeLessThanOrEqual(0.985);
    }
  });

  it('the second bath gets a small part of what the first gets', () => {
    const { replayed } = run(PAIR, [...FILLED, { what: 'wash', parts: { model: 6 }, agitation: 'stirred' }]);
    const [dirty, clean] = replayed.baths.map(resinMass);
    expect(clean! / dirty!).toBeLessThan(0.1);
  });
});

describe('draining', () => {
  it('a print hung overnight brings far less resin than one just finished', () => {
    const overnight = carried({ parts: { model: 6 }, drained_min: 720 });
    for (const drained_min of [0, 1, 5]) {
      expect(carried({ parts: { model: 6 }, drained_min }) / overnight).toBeGreaterThan(4);
    }
  });

  it('ten minutes instead of one leave about a third', () => {
    const ratio =
      carried({ parts: { model: 6 }, drained_min: 10 }) / carried({ parts: { model: 6 }, drained_min: 1 });
    expect(ratio).toBeCloseTo(1 / 3, 1);
  });

  it('a room at 25 °C instead of 18 °C brings a quarter less, 23 to 31 %', () => {
    // Viscosities of two resins at both temperatures: 226 and 133, 791 and 373 mPa·s.
    const at = (room_c: number) =>
      carried({ parts: { model: 6 } }, headerOf({ dirty: {}, clean: {} }, { shop: { room_c } }));
    const less = 1 - at(25) / at(18);
    expect(less).toBeGreaterThan(0.23);
    expect(less).toBeLessThan(0.31);
  });

  it('half the draining shortens the life of the baths', () => {
    const whole = life({ parts: { model: 6 }, drained_min: 10 });
    const half = life({ parts: { model: 6 }, drained_min: 5 });
    expect(half).toBeLessThan(whole);
    // By less than half: the film goes with the root of the time, and drag-out stays.
    expect(half).toBeGreaterThan(whole / 2);
  });
});

describe('parts', () => {
  it('an arch brings about 0.7 g solid and 1.05 g hollow after ten minutes at 25 °C', () => {
    const room = headerOf({ dirty: {}, clean: {} }, { shop: { room_c: 25 } });
    expect(carried({ parts: { model: 1 } }, room)).toBeCloseTo(0.72, 2);
    expect(carried({ parts: { 'hollow-model': 1 } }, room)).toBeCloseTo(1.05, 1);
  });

  it('hollow models foul the baths several times faster than solid ones of the same mass', () => {
    const { parts } = openShop(PAIR);
    const perMl = (name: string) => carried({ parts: { [name]: 1 } }) / parts.get(name)!.volumeMl;
    expect(perMl('hollow-model') / perMl('model')).toBeGreaterThan(3);
    expect(life({ parts: { 'hollow-model': 6 } })).toBeLessThan(life({ parts: { model: 6 } }));
  });

  it('with the defaults a pair of 4 L and 4 L lasts a few hundred arches', () => {
    for (const perLoad of [2, 6, 12]) {
      const arches = perLoad * life({ parts: { model: perLoad } });
      expect(arches).toBeGreaterThan(100);
      expect(arches).toBeLessThan(1000);
    }
  });
});

describe('liquid', () => {
  it('a topped-up bath has a lower percentage and the same grams', () => {
    const used: Draft[] = [...FILLED, { what: 'wash', area_cm2: 600, carry_g: 150, drag_ml: [300, 20] }];
    const before = run(PAIR, used).replayed.baths[0]!;
    const after = run(PAIR, [...used, { what: 'top-up', bath: 'dirty', solvent: 'ipa99', to: 'mark' }])
      .replayed.baths[0]!;
    expect(resinFraction(after)).toBeLessThan(0.97 * resinFraction(before));
    expect(resinMass(after)).toBe(resinMass(before));
  });

  it('a hydrometer has risen by 0.02 to 0.03 g/mL where the dirty bath is to be changed', () => {
    const shop = openShop(PAIR);
    const [fresh] = run(PAIR, FILLED).replayed.baths;
    const change = shop.tubs[0]!.limits.resin[1] / 100;
    const loaded = { ...fresh!, resin: fresh!.resin.slice() };
    loaded.resin[0] = (change / (1 - change)) * (fresh!.ipaG + fresh!.waterG);
    const rise = bathDensity(loaded, shop.resins, 20) - bathDensity(fresh!, shop.resins, 20);
    expect(rise).toBeGreaterThan(0.02);
    expect(rise).toBeLessThan(0.03);
  });

  it('a loaded bath clings more: the dirty one gives more film than the clean one', () => {
    const { seen } = run(PAIR, [
      ...FILLED,
      { what: 'wash', area_cm2: 600, carry_g: 300 },
      { what: 'wash', parts: { model: 6 } },
    ]);
    const [dirty, clean] = seen.at(-1)!.wash!.dragMl;
    expect(dirty).toBeGreaterThan(clean!);
  });
});
