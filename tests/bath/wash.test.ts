import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Load } from '../../src/bath/load.ts';
import { openShop } from '../../src/bath/shop.ts';
import {
  type Bath,
  bathVolume,
  copyBath,
  emptyBath,
  resinFraction,
  resinMass,
} from '../../src/bath/state.ts';
import { emptyTally } from '../../src/bath/tally.ts';
import { carryOf, clingMultiplier, type WashOutcome, washLoad } from '../../src/bath/wash.ts';
import { type Draft, FILLED, headerOf, PAIR, run } from './bench.ts';

const shop = openShop(PAIR);

/** A full soak: nothing stays undissolved. */
const FULL = { agitation: 'ultrasonic', minutes: [1440, 1440] } as const;
const full = (more: object): Draft =>
  ({ what: 'wash', area_cm2: 200, ...FULL, minutes: [...FULL.minutes], ...more }) as Draft;

function bathOf(resinG: number, ipaG: number, waterG: number): Bath {
  const bath = { ...emptyBath(), ipaG, waterG };
  bath.resin[0] = resinG;
  return bath;
}

describe('carry-over', () => {
  const { seen } = run(PAIR, [...FILLED, { what: 'wash', area_cm2: 100, minutes: [5, 5] }]);
  const load = seen.at(-1)!.load!;

  it('splits the film between the first bath and the tray', () => {
    const plain = carryOf({ ...load, trappedG: 0 }, 1);
    const rinsed = carryOf({ ...load, prerinseShare: 0.6, trappedG: 2 }, 1);
    expect(plain).toEqual({ carryG: load.filmG, trayG: 0 });
    expect(rinsed.carryG).toBeCloseTo(0.4 * load.filmG + 2, 12);
    expect(rinsed.trayG).toBeCloseTo(0.6 * load.filmG, 12);
  });

  it('scales with the factor, which does not touch what is trapped', () => {
    expect(carryOf({ ...load, trappedG: 2 }, 1.5).carryG).toBeCloseTo(1.5 * load.filmG + 2, 12);
  });

  it('given outright it is what enters, factor, rinse and trapped resin or not', () => {
    const given = { ...load, givenCarryG: 3.3, prerinseShare: 0.6, trappedG: 2 };
    expect(carryOf(given, 2)).toEqual({ carryG: 3.3, trayG: 0 });
  });
});

describe('cling of a loaded bath', () => {
  it('is 1 without resin and grows with it, up to 3', () => {
    const of = (resinG: number) => clingMultiplier(bathOf(resinG, 1000, 5), shop);
    expect(of(0)).toBe(1);
    const rising = [0, 20, 60, 120, 250].map(of);
    expect(rising).toEqual([...rising].sort((a, b) => a - b));
    expect(of(5000)).toBe(3);
  });

  it('by hand at 10 wt% in dry IPA, 20 °C', () => {
    const bath = bathOf(100, 900, 0);
    // (µ_r/µ_s)^0.1 with µ_r = 400 exp(0.4) and µ_s = 2.40 mPa·s; 1/ρ = 0.1/1.11 + 0.9/0.785157.
    const thicker = ((400 * Math.exp(0.4)) / 2.4) ** 0.1;
    const lighter = 0.785157 * (0.1 / 1.11 + 0.9 / 0.785157);
    const cool = openShop({ ...PAIR, shop: { room_c: 20 } });
    expect(clingMultiplier(bath, cool)).toBeCloseTo(Math.sqrt(thicker * lighter), 6);
  });
});

describe('one wash', () => {
  it('dissolves by the law of the soak, leaves the film of the bath as it then is', () => {
    const { seen } = run(PAIR, [
      ...FILLED,
      { what: 'wash', area_cm2: 200, carry_g: 8, drag_ml: [10, 10], minutes: [3, 6], agitation: 'still' },
    ]);
    const { baths, wash } = seen.at(-1)!;
    // τ = 6 min: the first soak dissolves 1 − e^−0.5 of 8 g, the second 1 − e^−1 of the rest. Both baths have one strength,
    // so volumes add: 4 L, the film, the resin at 1.11 g/mL.
    const first = 8 * (1 - Math.exp(-0.5));
    const rest = 8 - first;
    const second = rest * (1 - Math.exp(-1));
    const filmShare = 10 / (4000 + first / 1.11);
    expect(resinMass(baths[0]!)).toBeCloseTo(first * (1 - filmShare), 9);
    const arrived = first * filmShare + second;
    const leavingShare = 10 / (4000 + 10 + second / 1.11);
    expect(resinMass(baths[1]!)).toBeCloseTo(arrived * (1 - leavingShare), 9);
    const residueG = rest - second + arrived * leavingShare;
    expect(wash!.residueUgPerCm2).toBeCloseTo((residueG / 200) * 1e6, 5);
  });

  it('takes a share of the undissolved rest to the tray between two baths, and nothing after the last', () => {
    const wash: Draft = {
      what: 'wash',
      area_cm2: 200,
      carry_g: 8,
      drag_ml: [0, 0],
      minutes: [6, 6],
      agitation: 'still',
      midrinse: 'brush',
    };
    const { replayed } = run(PAIR, [...FILLED, wash]);
    const rest = 8 * Math.exp(-1);
    expect(replayed.tally.tray.resin).toBeCloseTo(0.6 * rest, 12);
    expect(replayed.tally.parts.resin).toBeCloseTo(0.4 * rest * Math.exp(-1), 12);
    expect(resinMass(replayed.baths[1]!)).toBeCloseTo(0.4 * rest * (1 - Math.exp(-1)), 12);
  });

  it('drags the basket and the area out of each bath', () => {
    const { seen } = run(PAIR, [...FILLED, full({ carry_g: 0, area_cm2: 1000 })]);
    // 60 mL/m² on 0.1 m² and 5 mL of basket; the baths are clean, so the multiplier is 1.
    expect(seen.at(-1)!.wash!.dragMl).toEqual([11, 11]);
  });

  it('keeps resins apart', () => {
    const header = headerOf(
      { dirty: {}, clean: {} },
      { resins: { red: { density_g_ml: 1.2 }, blue: { density_g_ml: 1.05 } } },
    );
    const { replayed, shop: two } = run(header, [
      ...FILLED,
      full({ resin: 'red', carry_g: 6, drag_ml: [0, 0] }),
      full({ resin: 'blue', carry_g: 2, drag_ml: [0, 0] }),
    ]);
    const [dirty] = replayed.baths;
    expect(dirty!.resin[two.resinPlace.get('red')!]).toBe(6);
    expect(dirty!.resin[two.resinPlace.get('blue')!]).toBe(2);
    // Density of the mixture of resins by mass: (6 × 1.2 + 2 × 1.05)/8.
    expect(bathVolume(dirty!, two.resins) - 4000).toBeCloseTo(8 / 1.1625, 9);
  });

  it('may go through the baths in any order, or through one only', () => {
    const { replayed } = run(PAIR, [
      ...FILLED,
      full({ baths: ['clean'], minutes: [1440], carry_g: 5, drag_ml: [0] }),
    ]);
    expect(replayed.baths.map(resinMass)).toEqual([0, 5]);
  });
});

describe('a wash that cannot be', () => {
  const why = (drafts: Draft[]) => {
    const { replayed } = run(PAIR, drafts);
    return replayed.refused.map(({ refusal }) => refusal.why);
  };

  it('in an empty bath, the first or the second', () => {
    expect(why([full({})])).toEqual(['empty']);
    expect(why([FILLED[0]!, full({})])).toEqual(['empty']);
  });

  it('carrying out more than there is', () => {
    const { replayed, seen } = run(PAIR, [...FILLED, full({ carry_g: 1, drag_ml: [10, 4100] })]);
    expect(replayed.refused[0]!.refusal).toMatchObject({ why: 'runs-dry', bath: 1, dragMl: 4100 });
    // The first bath had its part already: it is back as it was.
    expect(seen.length).toBe(2);
    expect(replayed.baths).toEqual(run(PAIR, FILLED).replayed.baths);
    expect(replayed.tally.in.resin).toBe(0);
  });

  it('in a solvent weaker than the data reach', () => {
    const weak = headerOf({ dirty: {}, clean: {} }, { solvents: { thin: { ipa_wt_pct: 40 } } });
    const poured: Draft[] = [
      { what: 'fill', bath: 'dirty', solvent: 'thin', ml: 4000 },
      { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000 },
    ];
    expect(run(weak, [...poured, full({})]).replayed.refused).toEqual([]);
    const weaker = headerOf({ dirty: { moisture: 3 }, clean: {} }, { ...weak, shop: { humidity_pct: 95 } });
    const later = run(weaker, [...poured, full({ hour: 2000 })]);
    expect(later.replayed.refused[0]!.refusal).toMatchObject({ why: 'weak', bath: 0 });
  });
});

describe('two half loads against one whole', () => {
  const carryG = 12;
  const washes = (pieces: number, dragMl: number, soak: object = {}): Draft[] =>
    Array.from({ length: pieces }, () =>
      full({ carry_g: carryG / pieces, drag_ml: [dragMl / pieces, dragMl / pieces], ...soak }),
    );
  const resin = (drafts: Draft[]) => run(PAIR, [...FILLED, ...drafts]).replayed.baths.map(resinMass);

  it('are the same where nothing is dragged out: the soak and the rinses are in proportion', () => {
    const soak = { minutes: [4, 5], agitation: 'still', midrinse: 'spray' };
    const whole = run(PAIR, [...FILLED, ...washes(1, 0, soak)]).replayed;
    const halves = run(PAIR, [...FILLED, ...washes(2, 0, soak)]).replayed;
    halves.baths.forEach((bath, place) => {
      expect(resinMass(bath)).toBeCloseTo(resinMass(whole.baths[place]!), 12);
    });
    expect(halves.tally.tray.resin).toBeCloseTo(whole.tally.tray.resin, 12);
    expect(halves.tally.parts.resin).toBeCloseTo(whole.tally.parts.resin, 12);
  });

  it('differ with drag-out in the first bath by a quarter of what the film takes, to first order', () => {
    // One film takes c D/V; two take c D/V (1/4 + 1/2): the first half meets the second film as well.
    for (const dragMl of [40, 4]) {
      const more = resin(washes(2, dragMl))[0]! - resin(washes(1, dragMl))[0]!;
      expect(more / ((carryG * dragMl) / 4000 / 4)).toBeCloseTo(1, 1);
    }
  });

  it('approach one limit as the pieces become many: each halving halves what is still missing', () => {
    const gaps = [8, 16, 32, 64].map(
      (pieces) => resin(washes(2 * pieces, 400))[0]! - resin(washes(pieces, 400))[0]!,
    );
    for (let at = 1; at < gaps.length; at += 1) expect(gaps[at - 1]! / gaps[at]!).toBeCloseTo(2, 1);
  });
});

describe('many equal loads taken at once', () => {
  const { seen } = run(PAIR, [...FILLED, { what: 'wash', parts: { model: 6 } }]);
  const plain = seen.at(-1)!.load!;
  const many = (load: Load, times: number): Load => ({
    ...load,
    times,
    filmG: times * load.filmG,
    trappedG: times * load.trappedG,
    dragMl: times * load.dragMl,
    areaCm2: times * load.areaCm2,
    ...(load.givenDragMl ? { givenDragMl: load.givenDragMl.map((ml) => times * ml) } : {}),
  });
  /** Baths and tallies after loads one by one, or all at once. */
  const throughLoads = (before: readonly Bath[], loads: readonly Load[]) => {
    const baths = before.map(copyBath);
    const tally = emptyTally();
    const outcomes = loads.map((load) => washLoad(baths, load, shop, shop.factors, tally) as WashOutcome);
    return { baths, tally, outcomes };
  };

  it('are the same to the last bit for one', () => {
    const before = [bathOf(150, 2900, 60), bathOf(20, 3000, 30)];
    const { times: _, ...one } = many(plain, 1);
    expect(throughLoads(before, [many(plain, 1)])).toEqual(throughLoads(before, [one]));
    expect(throughLoads(before, [many(plain, 1)])).toEqual(throughLoads(before, [plain]));
  });

  // Measured over 6000 each: first bath 0.0012 and 0.006; the second 0.003 of what it holds and 0.031 and 0.093 of what it gets,
  // most in a fresh one that gets films only. A load of six models brings 0.45 g for each mL it drags out, straight from the
  // printer five times as much.
  it.each([
    ['hung for ten minutes', 0.5, 0.004, 0.05],
    ['straight from the printer', 3, 0.012, 0.14],
  ])('are the same as one by one, with up to 0.06 of a bath dragged out: %s', (_, gPerMl, first, second) => {
    const upTo = (most: number) => fc.integer({ min: 0, max: most });
    const all = fc.record({
      times: fc.integer({ min: 2, max: 60 }),
      share: fc.integer({ min: 1, max: 60 }),
      film: upTo(100),
      dirtyG: upTo(400),
      cleanG: upTo(80),
      waterG: upTo(300),
      soak: fc.constantFrom(0.3, 0.83, 4, 1000),
      given: fc.boolean(),
    });
    fc.assert(
      fc.property(all, ({ times, share, film, dirtyG, cleanG, waterG, soak, given }) => {
        const before = [bathOf(dirtyG, 3000 - waterG, waterG), bathOf(cleanG, 3000, 30)];
        const dragMl = (share / 1000) * (3800 / times);
        const load: Load = { ...plain, filmG: (film / 100) * gPerMl * dragMl, dragMl, soaks: [soak, soak] };
        if (given) load.givenDragMl = [dragMl, 0.8 * dragMl];
        const single = throughLoads(
          before,
          Array.from({ length: times }, () => load),
        );
        const together = throughLoads(before, [many(load, times)]);
        together.baths.forEach((bath, place) => {
          const other = single.baths[place]!;
          const near = (of: (one: Bath) => number) => {
            const gained = place === 0 ? 0 : Math.abs(of(other) - of(before[1]!));
            expect(Math.abs(of(bath) - of(other))).toBeLessThanOrEqual(first * of(other) + second * gained);
          };
          near(resinMass);
          near((one) => one.ipaG);
          near((one) => one.waterG);
        });
      }),
      { numRuns: 300 },
    );
  });

  it('leave no less and no more altogether: in is held and left on parts', () => {
    const before = [bathOf(150, 2900, 60), bathOf(20, 3000, 30)];
    const { baths, tally } = throughLoads(before, [
      many({ ...plain, midrinseShare: 0.6, prerinseShare: 0.6 }, 25),
    ]);
    const heldG = baths.reduce((sum, bath) => sum + resinMass(bath), 0);
    expect(heldG + tally.parts.resin + tally.tray.resin).toBeCloseTo(170 + tally.in.resin, 9);
    expect(baths[0]!.ipaG + baths[1]!.ipaG + tally.parts.ipa).toBeCloseTo(5900, 9);
    expect(baths[0]!.waterG + baths[1]!.waterG + tally.parts.water).toBeCloseTo(90, 9);
  });

  it('that swell a bath find the mean of its volumes: two of 200 mL in a litre, each leaving with 100 mL, find 1250', () => {
    const bath = bathOf(0, 785.2, 0); // a litre of dry isopropanol, FITQUAD
    const load: Load = {
      ...plain,
      filmG: 200 * shop.resins[plain.resin]!.density,
      prerinseShare: 0,
      baths: [0],
      soaks: [1e6],
      givenDragMl: [100],
      dragMl: 100,
    };
    const single = throughLoads([bath, bathOf(0, 3000, 0)], [load, load]);
    const together = throughLoads([bath, bathOf(0, 3000, 0)], [many(load, 2)]);
    // One by one by hand: 200 of 1200 mL, then 183.3 + 200 of 1300 mL is resin, of which 100 mL leave.
    const leftMl = 200 / 12 + (200 * (1 - 1 / 12) + 200) / 13;
    const left = (made: typeof single) => made.tally.parts.resin / shop.resins[plain.resin]!.density;
    expect(left(single)).toBeCloseTo(leftMl, 1);
    expect(Math.abs(left(together) / leftMl - 1)).toBeLessThan(0.02);
    expect(together.baths[0]!.ipaG).toBeCloseTo(single.baths[0]!.ipaG, 0);
  });

  it('that drag nothing leave all they bring, but for what has not dissolved', () => {
    const load: Load = { ...plain, baths: [0], soaks: [1e6], givenDragMl: [0], dragMl: 0 };
    const { baths, tally } = throughLoads([bathOf(50, 3000, 0), bathOf(0, 3000, 0)], [many(load, 5)]);
    expect(resinMass(baths[0]!)).toBeCloseTo(50 + tally.in.resin, 9);
    expect(tally.parts).toEqual({ resin: 0, ipa: 0, water: 0 });
  });

  it('cling as the first and the last of them do, on average', () => {
    const before = bathOf(50, 3000, 0);
    const load: Load = { ...plain, filmG: 30, prerinseShare: 0, baths: [0], soaks: [1e6] };
    const { outcomes } = throughLoads([before, bathOf(0, 3000, 0)], [many(load, 10)]);
    const after = bathOf(350, 3000, 0);
    const mean = (clingMultiplier(before, shop) + clingMultiplier(after, shop)) / 2;
    expect(clingMultiplier(after, shop) - clingMultiplier(before, shop)).toBeGreaterThan(0.05);
    expect(outcomes[0]!.dragMl).toHaveLength(1);
    expect(outcomes[0]!.dragMl[0]).toBeCloseTo(10 * load.dragMl * mean, 9);
  });

  it('of one film without resin leave the geometric series (1 − s)ⁿ', () => {
    // 40 films of 10 mL of a bath of 4000 mL that holds 200 g and shrinks: Π (1 − 10/(V − 10 i)), by hand 1 − 400/V.
    const bath = bathOf(200, 3000, 0);
    const beforeMl = bathVolume(bath, shop.resins);
    const load: Load = { ...plain, filmG: 0, baths: [0], soaks: [1], givenDragMl: [10], dragMl: 10 };
    const { baths } = throughLoads([bath, bathOf(0, 3000, 0)], [many(load, 40)]);
    expect(resinMass(baths[0]!)).toBeCloseTo(200 * (1 - 400 / beforeMl), 1);
  });
});

describe('one load', () => {
  const load = (more: Partial<Load> = {}): Load => ({
    ...run(PAIR, [...FILLED, { what: 'wash', parts: { model: 6 } }]).seen.at(-1)!.load!,
    filmG: 20,
    baths: [0],
    ...more,
  });
  const through = (bath: Bath, one: Load, factors = shop.factors) =>
    washLoad([bath, emptyBath()], one, shop, factors, emptyTally()) as WashOutcome;

  it('clings to the parts by the liquid it leaves, and by the factor', () => {
    const after = bathOf(420, 2900, 60);
    const { dragMl } = through(bathOf(400, 2900, 60), load({ soaks: [1e6] }), { ...shop.factors, drag: 1.5 });
    expect(clingMultiplier(after, shop)).toBeGreaterThan(1.1);
    expect(dragMl[0]).toBeCloseTo(1.5 * load().dragMl * clingMultiplier(after, shop), 9);
  });

  it('dissolves by 1 − exp(−t/τ), with τ by the factor: half the time, or twice as slow, is the same', () => {
    const slow = through(bathOf(0, 3000, 0), load({ soaks: [0.8] }), { ...shop.factors, dissolution: 2 });
    const brief = through(bathOf(0, 3000, 0), load({ soaks: [0.4] }));
    expect(slow.dissolvedG).toEqual(brief.dissolvedG);
    expect(slow.dissolvedG).toHaveLength(1);
    expect(slow.dissolvedG[0]! / slow.carryG).toBeCloseTo(1 - Math.exp(-0.4), 12);
  });

  it('takes the share of the bath that its film is', () => {
    const bath = bathOf(0, 785.2, 0); // a litre, FITQUAD
    const { shares, dragMl } = through(bath, load({ filmG: 0, trappedG: 0, givenDragMl: [50] }));
    expect(dragMl).toEqual([50]);
    expect(shares).toHaveLength(1);
    expect(shares[0]).toBeCloseTo(0.05, 4);
    expect(bath.ipaG).toBeCloseTo(0.95 * 785.2, 1);
  });
});

describe('fractions', () => {
  it('of a bath with resin are of the whole', () => {
    expect(resinFraction(bathOf(100, 850, 50))).toBeCloseTo(0.1, 12);
  });
});
