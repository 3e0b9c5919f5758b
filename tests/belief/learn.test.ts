/**
 * Learning as a whole: factors, baths and the scatter of washes at once. Where all answers are straight lines of logarithms it must
 * be one Kalman update of the joint state, done here with matrices of a general library (KALMAN1960).
 */
import fc from 'fast-check';
import { add, identity, inv, type Matrix, matrix, multiply, subtract, transpose } from 'mathjs';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadOf } from '../../src/bath/load.ts';
import { type AllFactors, priorMedians, replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import {
  type Bath,
  bathDensity,
  bathVolume,
  emptyBath,
  resinFraction,
  resinMass,
} from '../../src/bath/state.ts';
import { REACH } from '../../src/belief/bend.ts';
import { Ensemble } from '../../src/belief/ensemble.ts';
import { factorOn } from '../../src/belief/factors.ts';
import { learn } from '../../src/belief/learn.ts';
import type { Scene } from '../../src/belief/sight.ts';
import type { ReadingEvent, WashEvent } from '../../src/ledger/event.ts';
import { factorBand } from '../../src/outlook/factors-band.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';
import { believing, normalFrom } from './bench.ts';

const SPREAD = [0.45, 0.5, 0.35];
const MIDDLE_G = { resin: [120, 20], ipa: [2900, 3000], water: [40, 20] } as const;

interface Case {
  /** Slopes of ln resin of each bath and of ln IPA of the dirty one along the three factors. */
  resin: number[][];
  ipa: number[];
  /** Relative scatter of each bath's resin along z₁ and z₂. */
  relative: number[][];
  /** Slopes of what is read along factors and along z. */
  reads: number[];
  readsScatter: number[];
  sd: number;
  /** How far off the reading lies, in standard deviations of both together. */
  off: number;
}

const slope = (most: number) => fc.double({ min: -most, max: most, noNaN: true });
const list = (size: number, one: fc.Arbitrary<number>) => fc.array(one, { minLength: size, maxLength: size });
const anyCase = (most: number): fc.Arbitrary<Case> =>
  fc.record({
    resin: fc.array(list(3, slope(0.6)), { minLength: 2, maxLength: 2 }),
    ipa: list(3, slope(0.2)),
    relative: fc
      .tuple(slope(0.2), slope(0.2), slope(0.2))
      .map(([one, two, three]) => [[Math.abs(one) + 0.01, 0], [two, Math.abs(three) + 0.01]]), // biome-ignore format: a matrix
    reads: list(3, slope(1)),
    readsScatter: list(2, slope(0.4)),
    sd: fc.double({ min: 0.1, max: 1, noNaN: true }),
    off: slope(most),
  });

/** Worlds in which every logarithm is a straight line, what is read of them, and the best estimate beside them. */
function laidOut({ resin, ipa, relative, reads, readsScatter, sd, off }: Case) {
  const shop = openShop(PAIR);
  const ensemble = new Ensemble(shop, priorMedians(shop));
  const at = (slopes: readonly number[], world: number) => {
    if (world === 0) return 1;
    return Math.exp((world % 2 === 1 ? REACH : -REACH) * slopes[Math.floor((world - 1) / 2)]!);
  };
  ensemble.worlds.forEach(({ baths }, world) => {
    baths.forEach((bath, place) => {
      bath.resin[0] = MIDDLE_G.resin[place]! * at(resin[place]!, world);
      bath.ipaG = MIDDLE_G.ipa[place]! * (place === 0 ? at(ipa, world) : 1);
      bath.waterG = MIDDLE_G.water[place]!;
    });
  });
  const columns = relative.map((row, place) => Float64Array.from(row, (one) => one * MIDDLE_G.resin[place]!));
  ensemble.scatter = columns.map((row) =>
    Float64Array.from(columns, (other) => row[0]! * other[0]! + row[1]! * other[1]!),
  );
  const best = MIDDLE_G.resin.map((grams, place): Bath => {
    const square = relative[place]![0]! ** 2 + relative[place]![1]! ** 2;
    const bath = { ...emptyBath(), ipaG: MIDDLE_G.ipa[place]!, waterG: MIDDLE_G.water[place]! };
    bath.resin[0] = grams * Math.exp(-square / 2);
    return bath;
  });
  const scene: Scene = {
    unknowns: 3,
    see: (u) => 5 + reads.reduce((sum, one, place) => sum + one * u[place]!, 0),
    slopes: () => Float64Array.from(reads),
    scatterSlopes: () => Float64Array.from(readsScatter),
  };
  const all = [...reads, ...readsScatter];
  const value = 5 + off * Math.hypot(sd, ...all);
  return { ensemble, best, lesson: { scene, value, sd, columns }, all, value };
}

/** Mean and covariance of (u, z) after the reading, and of the logarithms that follow from them. */
function kalman({ resin, ipa, relative, sd }: Case, all: number[], gap: number) {
  const sees = matrix([all]);
  const prior = identity(5) as Matrix;
  const total = add(multiply(multiply(sees, prior), transpose(sees)), matrix([[sd * sd]]));
  const gain = multiply(multiply(prior, transpose(sees)), inv(total));
  const covariance = subtract(prior, multiply(gain, sees));
  const rows = [
    ...SPREAD.map((spread, place) => [0, 1, 2, 3, 4].map((other) => (other === place ? spread : 0))),
    ...resin.map((row, place) => [...row, ...relative[place]!]),
    [...ipa, 0, 0],
  ];
  const told = matrix(rows);
  return {
    mean: multiply(told, multiply(gain, gap)).toArray().flat() as number[],
    covariance: multiply(multiply(told, covariance), transpose(told)).toArray() as number[][],
  };
}

/**
 * The same from the ensemble: logarithms of factors, of the resin in both baths and of the IPA in the dirty one. Grams of scatter are
 * a share of the resin that is held.
 */
function spelledOut(ensemble: Ensemble, best: readonly Bath[], before: readonly Bath[]) {
  const logs = ensemble.worlds.map(({ factors, baths }) => [
    ...ensemble.axes.map((axis) => Math.log(factorOn(factors, axis))),
    ...baths.map((bath) => Math.log(resinMass(bath))),
    Math.log(baths[0]!.ipaG),
  ]);
  const roots = logs[0]!.map((_, figure) =>
    ensemble.axes.map(
      (_, axis) => (logs[1 + 2 * axis]![figure]! - logs[2 + 2 * axis]![figure]!) / (2 * REACH),
    ),
  );
  const held = ensemble.worlds[0]!.baths.map(resinMass);
  const covariance = roots.map((row, one) =>
    roots.map((other, two) => {
      const shared = row.reduce((sum, each, axis) => sum + each * other[axis]!, 0);
      const [bathOne, bathTwo] = [one - 3, two - 3];
      if (bathOne < 0 || bathTwo < 0 || bathOne > 1 || bathTwo > 1) return shared;
      return shared + ensemble.scatter[bathOne]![bathTwo]! / (held[bathOne]! * held[bathTwo]!);
    }),
  );
  const mean = [
    ...logs[0]!.slice(0, 3),
    ...best.map((bath, place) => Math.log(resinMass(bath) / resinMass(before[place]!))),
    Math.log(best[0]!.ipaG / before[0]!.ipaG),
  ];
  return { mean, covariance };
}

function furthest(one: Case, grownSd = one.sd): { mean: number; covariance: number } {
  const { ensemble, best, lesson, all, value } = laidOut(one);
  const before = structuredClone(best);
  learn(ensemble, lesson, best);
  const wanted = kalman({ ...one, sd: grownSd }, all, value - 5);
  const found = spelledOut(ensemble, best, before);
  const off = (mine: number[], theirs: number[]) =>
    Math.max(...mine.map((each, place) => Math.abs(each - theirs[place]!)));
  return {
    mean: off(found.mean, wanted.mean),
    covariance: off(found.covariance.flat(), wanted.covariance.flat()),
  };
}

describe('a straight reading of factors and scatter together', () => {
  it('that says what was expected: the joint covariance of one Kalman update, to six digits', () => {
    fc.assert(
      fc.property(anyCase(0), (one) => {
        const off = furthest(one);
        expect(off.mean).toBeLessThan(1e-7);
        expect(off.covariance).toBeLessThan(1e-6);
      }),
    );
  });

  it('that says something else: mean and covariance of factors, resin and IPA, to six digits', () => {
    fc.assert(
      fc.property(anyCase(2.8), (one) => {
        const off = furthest(one);
        expect(off.mean).toBeLessThan(1e-6);
        expect(off.covariance).toBeLessThan(1e-6);
      }),
    );
  });

  it('m > 3 standard deviations off: the same with the error that makes it 9/m, in closed form', () => {
    const far = fc.double({ min: 3.1, max: 30, noNaN: true });
    fc.assert(
      fc.property(anyCase(0), far, fc.constantFrom(-1, 1), (near, misfit, side) => {
        const one = { ...near, off: side * misfit };
        fc.pre(Math.hypot(...one.reads) > 0.05);
        const all = [...one.reads, ...one.readsScatter];
        const gap = misfit * Math.hypot(one.sd, ...all);
        // (9/m)² = gap²/(|g|² + |a|² + r²).
        const grown = Math.sqrt(((gap * misfit) / 9) ** 2 - Math.hypot(...all) ** 2);
        const off = furthest(one, grown);
        expect(off.mean).toBeLessThan(1e-4);
        expect(off.covariance).toBeLessThan(1e-4);
      }),
    );
  });

  it('leaves of a best estimate beside the median the share that it leaves of the variance, scatter and all', () => {
    const squares = (row: readonly number[]) => row.reduce((sum, each) => sum + each * each, 0);
    fc.assert(
      fc.property(anyCase(2.5), slope(0.3), (one, aside) => {
        fc.pre(squares(one.ipa) > 1e-4);
        const { ensemble, best, lesson, all, value } = laidOut(one);
        const before = structuredClone(best);
        for (const bath of best) {
          bath.resin[0]! *= Math.exp(aside);
          bath.ipaG *= Math.exp(-aside);
        }
        learn(ensemble, lesson, best);
        const { mean, covariance } = kalman(one, all, value - 5);
        best.forEach((bath, place) => {
          const figure = 3 + place;
          const share =
            covariance[figure]![figure]! / squares([...one.resin[place]!, ...one.relative[place]!]);
          const found = Math.log(resinMass(bath) / resinMass(before[place]!));
          expect(Math.abs(found - mean[figure]! - share * aside)).toBeLessThan(1e-5);
        });
        const share = covariance[5]![5]! / squares(one.ipa);
        expect(Math.abs(Math.log(best[0]!.ipaG / before[0]!.ipaG) - mean[5]! + share * aside)).toBeLessThan(
          1e-5,
        );
      }),
    );
  });

  it('of nothing at all leaves every world as it was', () => {
    fc.assert(
      fc.property(anyCase(2), (any) => {
        const one = { ...any, reads: [0, 0, 0], readsScatter: [0, 0] };
        const { ensemble, best, lesson } = laidOut(one);
        const [worlds, before] = structuredClone([ensemble.worlds, best]) as [typeof ensemble.worlds, Bath[]];
        learn(ensemble, lesson, best);
        ensemble.worlds.forEach(({ baths, factors }, world) => {
          expect(factors.carry / worlds[world]!.factors.carry).toBeCloseTo(1, 8);
          baths.forEach((bath, place) => {
            expect(resinMass(bath) / resinMass(worlds[world]!.baths[place]!)).toBeCloseTo(1, 8);
          });
        });
        best.forEach((bath, place) => {
          expect(resinMass(bath) / resinMass(before[place]!)).toBeCloseTo(1, 8);
        });
      }),
    );
  });
});

describe('a liquid that is nothing somewhere', () => {
  const ONE: Case = {
    resin: [
      [0.4, 0.1, 0.1],
      [0.3, 0.2, 0],
    ],
    ipa: [0.1, 0, 0.1],
    relative: [
      [0.1, 0],
      [0.05, 0.1],
    ],
    reads: [0, 0, 0],
    readsScatter: [0, 0],
    sd: 1,
    off: 1,
  };

  it('in one world: a reading of nothing leaves a best estimate beside the median alone', () => {
    const { ensemble, best, lesson } = laidOut(ONE);
    ensemble.worlds[2]!.baths[0]!.ipaG = 0;
    best[0]!.ipaG *= 1.2;
    learn(ensemble, lesson, best);
    expect(best[0]!.ipaG / (1.2 * MIDDLE_G.ipa[0])).toBeCloseTo(1, 9);
  });

  it('of resin in every world: a fresh bath has no scatter before a reading and none after it', () => {
    const fresh: Case = {
      ...ONE,
      reads: [0.5, 0.1, 0],
      readsScatter: [0, 0.2],
      relative: [
        [0, 0],
        [0, 0.1],
      ],
    };
    const { ensemble, best, lesson } = laidOut(fresh);
    for (const { baths } of ensemble.worlds) baths[0]!.resin[0] = 0;
    best[0]!.resin[0] = 0;
    learn(ensemble, lesson, best);
    expect(ensemble.scatter[0]).toEqual(new Float64Array(2));
    expect(ensemble.scatter[1]![0]).toBe(0);
    // The other bath's goes on: less than it was, 0.1 of its 20 g.
    expect(ensemble.scatter[1]![1]).toBeGreaterThan(0);
    expect(Math.sqrt(ensemble.scatter[1]![1]!) / resinMass(ensemble.worlds[0]!.baths[1]!)).toBeLessThan(0.1);
  });

  it('in every world, or in the best estimate alone: that takes what the middle has', () => {
    const { ensemble, best, lesson } = laidOut({ ...ONE, reads: [0.5, 0.1, 0] });
    for (const { baths } of ensemble.worlds) baths[0]!.waterG = 0;
    best[1]!.waterG = 0;
    learn(ensemble, lesson, best);
    expect(best[0]!.waterG).toBe(0);
    expect(best[1]!.waterG).toBeCloseTo(MIDDLE_G.water[1], 9);
    for (const { baths } of ensemble.worlds) expect(baths[0]!.waterG).toBe(0);
  });
});

describe('a load weighed in one bath', () => {
  // Everything dissolves and nothing is dragged out. One load goes into dirty unweighed, one into clean is weighed: resin in dirty
  // is κ_c ε₁ c, what is weighed κ_c ε₂ c with 5 %. Closed form, a normal in logarithms:
  const noise = 0.25 ** 2 + 0.05 ** 2;
  const variance = 1 / (1 / 0.45 ** 2 + 1 / noise);
  const own = 1 / (1 / (0.45 ** 2 + 0.25 ** 2) + 1 / 0.05 ** 2);
  const wash = { what: 'wash', parts: { model: 6 }, agitation: 'ultrasonic', drag_ml: [0], minutes: [1440] };
  const base = [...FILLED, { ...wash, baths: ['dirty'] }, { ...wash, baths: ['clean'] }] as Draft[];
  const carryG = believing(PAIR, base).replayed.recent.at(-1)!.outcome.carryG;
  const weighing = (ratio: number) => {
    const weighed: Draft = { what: 'weighed', wash: 'e3', wet_g: 100 + ratio * carryG, clean_g: 100 };
    const { shop, entries, clockMs } = believing(PAIR, [...base, weighed]);
    return statusOf(shop, entries, clockMs).estimates.map(({ resinG }) => resinG);
  };

  it.each([0.5, 0.8, 1, 1.6, 2.2])(
    'at %s of what was expected moves the other by what it says of κ_c',
    (ratio) => {
      const [dirty, clean] = weighing(ratio);
      expect(dirty!.p50 / (carryG * Math.exp((variance * Math.log(ratio)) / noise))).toBeCloseTo(1, 3);
      // Of the weighed one itself all but 5 % is known: 1/(1/(0.45² + 0.25²) + 1/0.05²).
      expect(clean!.p50 / (carryG * Math.exp((own * Math.log(ratio)) / 0.05 ** 2))).toBeCloseTo(1, 2);
    },
  );

  /** Widths of the bands of both baths over those of the closed form. */
  const widths = (ratio: number) =>
    weighing(ratio).map(({ p05, p95 }, place) => {
      const wanted = Math.sqrt(place === 0 ? variance + 0.25 ** 2 : own);
      return Math.log(p95! / p05!) / (2 * 1.6449 * wanted);
    });

  it('as expected leaves the other its own scatter and what is left of κ_c, and the weighed one 5 %', () => {
    const [dirty, clean] = widths(1);
    expect(dirty).toBeCloseTo(1, 3);
    expect(clean).toBeCloseTo(1, 1);
  });

  it.each([0.8, 1, 1.6])(
    'at %s of what was expected is what the last wash then brought, to 5 %%',
    (ratio) => {
      const weighed: Draft = { what: 'weighed', wash: 'e3', wet_g: 100 + ratio * carryG, clean_g: 100 };
      const { carry } = believing(PAIR, [...base, weighed]).belief.ensemble.last!;
      // With the factor held, z has 0.25 of its own against a balance of 0.05; with both, `own` is left.
      expect(carry.scatterSd).toBeCloseTo((0.25 * 0.05) / Math.hypot(0.25, 0.05), 6);
      const halves = [0, 1, 2].map(
        (axis) => Math.log(carry.values[1 + 2 * axis]! / carry.values[2 + 2 * axis]!) / (2 * REACH),
      );
      expect(Math.hypot(...halves, carry.scatterSd) / Math.sqrt(own)).toBeCloseTo(1, 2);
      // The best estimate was the median, which the figure lies e^(−0.25²/2) below: both end at what the balance says.
      const told = (own * Math.log(ratio)) / 0.05 ** 2;
      expect(Math.abs(Math.log(carry.moved) - told)).toBeLessThan(0.05);
    },
  );

  it.each([0.5, 1.6, 2.2])('at %s of what was expected leaves no more and no less', (ratio) => {
    for (const width of widths(ratio)) expect(Math.abs(width - 1)).toBeLessThan(0.05);
  });
});

/** Weighted quantile. */
function quantile(pairs: readonly (readonly [number, number])[], share: number): number {
  const sorted = [...pairs].sort(([one], [other]) => one - other);
  const all = sorted.reduce((sum, [, weight]) => sum + weight, 0);
  let sum = 0;
  for (const [value, weight] of sorted) {
    sum += weight;
    if (sum >= share * all) return value;
  }
  return Number.NaN;
}

const DRAWS = 8000;
const SPREADS = { carry: 0.45, drag: 0.5, dissolution: 0.35, air: 0.7 };

it('the figures of the last wash follow the factors that a later reading moves', () => {
  const drafts: Draft[] = [
    ...FILLED,
    ...Array.from({ length: 20 }, (_, nth): Draft => ({ what: 'wash', parts: { model: 6 }, hour: 2 + nth })),
  ];
  const reading = { what: 'reading', bath: 'dirty', density_g_ml: 0.802, temp_c: 20, hour: 30 } as Draft;
  const [before, after] = [drafts, [...drafts, reading]].map((all) => believing(PAIR, all).belief.ensemble);
  const carry = (ensemble: Ensemble, world: number) => ensemble.worlds[world]!.factors.carry;
  expect(carry(after!, 0) / carry(before!, 0)).toBeGreaterThan(1.05);
  // What a load brings is κ_c times what its film holds, in every world.
  after!.last!.carry.values.forEach((grams, world) => {
    const film = before!.last!.carry.values[world]! / carry(before!, world);
    expect(grams / (film * carry(after!, world))).toBeCloseTo(1, 9);
  });
  expect(after!.last!.carry.moved).toBeCloseTo(carry(after!, 0) / carry(before!, 0), 9);
  // Nobody weighed it: its own scatter is as it was.
  expect(after!.last!.carry.scatterSd).toBe(0.25);
});

describe('readings in a running shop, against 8000 replays weighted by Bayes’ rule', () => {
  const header = headerOf({ dirty: OPEN, clean: OPEN });
  const shop = openShop(header);
  const { resins } = shop;
  const washes = Array.from(
    { length: 24 },
    (_, nth): Draft => ({
      what: 'wash',
      parts: { model: 6 },
      hour: 24 * Math.floor(nth / 2) + 3 * (nth % 2),
    }),
  );
  const read = (keys: object, bath = 'dirty', hour = 290): Draft =>
    ({ what: 'reading', bath, hour, ...keys }) as Draft;
  // Expected before: 2.3 wt% in dirty, 1.0 in clean, 0.789 g/mL, 3.6 L.
  const READINGS = {
    dense: read({ density_g_ml: 0.796, temp_c: 20 }),
    lessResin: read({ resin_wt_pct: 1.2 }),
    low: read({ level_ml: 3300 }),
    clean: read({ resin_wt_pct: 1.1 }, 'clean'),
    early: read({ density_g_ml: 0.794, temp_c: 20 }, 'dirty', 200),
    level: read({ level_ml: 3450 }, 'dirty', 250),
  };
  type Name = keyof typeof READINGS;
  const ordered = (drafts: readonly Draft[]) =>
    [...drafts].sort((one, other) => (one.hour ?? 0) - (other.hour ?? 0));

  /** (y − h)/r: instrument and model √(0.001² + 0.0007²) g/mL, 0.2 wt%, 3 % of the level; MODEL, section 6. */
  const misfit = (reading: ReadingEvent, baths: readonly Bath[]): number => {
    const bath = baths[reading.bath === 'dirty' ? 0 : 1]!;
    if (reading.density_g_ml !== undefined)
      return (reading.density_g_ml - bathDensity(bath, resins, reading.temp_c!)) / Math.hypot(0.001, 0.0007);
    if (reading.level_ml !== undefined)
      return (reading.level_ml - bathVolume(bath, resins)) / (0.03 * reading.level_ml);
    return (reading.resin_wt_pct! - 100 * resinFraction(bath)) / 0.2;
  };

  /** One shop drawn from the priors: what each reading would be off by, and the figures at the clock. */
  function drawnShop(normal: () => number) {
    const factors: AllFactors = {
      carry: Math.exp(SPREADS.carry * normal()),
      drag: Math.exp(SPREADS.drag * normal()),
      dissolution: Math.exp(SPREADS.dissolution * normal()),
      air: shop.tubs.map(() => ({
        evaporation: Math.exp(SPREADS.air * normal()),
        moisture: Math.exp(SPREADS.air * normal()),
      })),
    };
    const scattered = washes.map((draft): Draft => {
      const { filmG } = loadOf({ ...draft, id: 'w', at: '' } as WashEvent, shop);
      return { ...draft, carry_g: factors.carry * filmG * Math.exp(0.25 * normal()) } as Draft;
    });
    const drafts = ordered([...FILLED, ...scattered, ...Object.values(READINGS)]);
    const off = new Map<string, number>();
    const { baths } = replay(shop, entriesOf(drafts), START_MS + 300 * 3_600_000, {
      factors,
      watchRecords: true,
      watch: ({ entry: { event }, baths: then }) => {
        if (event.what === 'reading') off.set(keyOf(event), misfit(event, then));
      },
    });
    const figures = [
      100 * resinFraction(baths[0]!),
      100 * resinFraction(baths[1]!),
      bathVolume(baths[0]!, resins),
      factors.carry,
      factors.air[0]!.evaporation,
    ];
    return { off, figures };
  }

  function keyOf({ bath, density_g_ml, level_ml, resin_wt_pct }: Partial<ReadingEvent>): string {
    return JSON.stringify([bath, density_g_ml, level_ml, resin_wt_pct]);
  }

  let sample: ReturnType<typeof drawnShop>[];
  beforeAll(() => {
    const normal = normalFrom(41);
    sample = Array.from({ length: DRAWS }, () => drawnShop(normal));
  }, 60_000);

  // The largest gap of a 5, 50 or 95 % point, as a part of the exact band's width on a logarithmic scale: of what is in the baths and
  // the carry-over, then of the evaporation factor. The sample knows the points to 0.03 or so. Where two causes are as likely as
  // each other, solvent dragged out or evaporated, resin or water, the posterior is a crescent, and its thin end is not met.
  it.each<[Name[], number, number]>([
    [[], 0.05, 0.05],
    [['dense'], 0.17, 0.06],
    [['lessResin'], 0.1, 0.06],
    [['low'], 0.08, 0.35],
    [['clean'], 0.06, 0.06],
    [['early', 'level', 'clean'], 0.1, 0.26],
  ])('%j: bands within %s of their width, of evaporation within %s', (names, most, mostAir) => {
    const weights = sample.map(({ off }) =>
      Math.exp(
        -names.reduce((sum, name) => sum + off.get(keyOf(READINGS[name] as ReadingEvent))! ** 2 / 2, 0),
      ),
    );
    const all = weights.reduce((sum, one) => sum + one, 0);
    expect(all ** 2 / weights.reduce((sum, one) => sum + one * one, 0)).toBeGreaterThan(600);
    const drafts = ordered([...FILLED, ...washes, ...names.map((name) => READINGS[name])]);
    const { entries, clockMs } = believing(header, drafts, 300);
    const { estimates, factors, belief } = statusOf(shop, entries, clockMs);
    expect(belief.compared.map(({ flagged }) => flagged)).toEqual(names.map(() => false));
    const bands = [
      estimates[0]!.resinWtPct!,
      estimates[1]!.resinWtPct!,
      estimates[0]!.volumeMl,
      factorBand(factors, belief, { name: 'carry' }),
      factorBand(factors, belief, { name: 'evaporation', tub: 0 }),
    ];
    bands.forEach(({ p05, p50, p95 }, figure) => {
      const pairs = sample.map(({ figures }, draw) => [figures[figure]!, weights[draw]!] as const);
      const [low, middle, high] = [0.05, 0.5, 0.95].map((share) => quantile(pairs, share)) as [
        number,
        number,
        number,
      ];
      const width = Math.log(high / low);
      const gaps = [p05! / low, p50 / middle, p95! / high].map((ratio) => Math.abs(Math.log(ratio)) / width);
      expect(Math.max(...gaps), `figure ${figure}`).toBeLessThan(figure === 4 ? mostAir : most);
    });
  });
});
