import fc from 'fast-check';
import { multiply, transpose } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { loadOf } from '../../src/bath/load.ts';
import { replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { bathVolume, copyBath, resinMass } from '../../src/bath/state.ts';
import { emptyTally } from '../../src/bath/tally.ts';
import { type WashOutcome, washLoad } from '../../src/bath/wash.ts';
import { addColumn, noCovariance, passed, passWash, rootOf, scatterOf } from '../../src/belief/scatter.ts';
import type { WashEvent } from '../../src/ledger/event.ts';
import { type Draft, entriesOf, FILLED, headerOf, PAIR, run, START_MS } from '../bath/bench.ts';
import { believing, covarianceOf, normalFrom } from './bench.ts';

const shop = openShop(PAIR);
const WASH: Draft = { what: 'wash', parts: { model: 6 } };
const washes = (count: number, wash: Draft = WASH): Draft[] => Array.from({ length: count }, () => wash);

/** One wash after `drafts`, with `more` grams in the baths before it and `times` its resin; resin after it and its outcome. */
function washAfter(drafts: readonly Draft[], event: object, more: readonly number[], times = 1) {
  const baths = run(PAIR, drafts).replayed.baths.map(copyBath);
  baths.forEach((bath, place) => {
    bath.resin[0] = (bath.resin[0] ?? 0) + more[place]!;
  });
  const load = loadOf({ what: 'wash', id: 'w', at: '', ...event } as WashEvent, shop);
  const scaled = { ...load, filmG: load.filmG * times };
  const outcome = washLoad(baths, scaled, shop, shop.factors, emptyTally()) as WashOutcome;
  return { resin: baths.map(resinMass), outcome, load };
}

describe('how resin passes through a wash', () => {
  const KINDS: [string, object][] = [
    ['dirty, then clean', { area_cm2: 400 }],
    ['stirred, with a rinse between', { area_cm2: 400, agitation: 'stirred', midrinse: 'brush' }],
    ['clean first', { area_cm2: 400, baths: ['clean', 'dirty'], minutes: [3, 4] }],
    ['one bath only', { area_cm2: 400, baths: ['clean'], minutes: [4] }],
    ['much dragged out', { area_cm2: 400, drag_ml: [300, 200] }],
  ];

  it.each(KINDS)('%s: the slopes are the differences of the wash itself, for little resin', (_, event) => {
    // So little that neither volume nor viscosity answers to it.
    const small = 1e-4;
    const at = washAfter(FILLED, event, [0.01, 0.01], small);
    const rows = passWash(2, at.load, at.outcome, 0.25);
    for (const [column, more] of [
      [0, [0.02, 0.01]],
      [1, [0.01, 0.02]],
    ] as const) {
      const moved = washAfter(FILLED, event, [...more], small);
      rows.forEach((row, place) => {
        expect(row[column]!).toBeCloseTo((moved.resin[place]! - at.resin[place]!) / 0.01, 5);
      });
    }
    // d(grams)/d(ln c), times its standard deviation.
    const more = washAfter(FILLED, event, [0.01, 0.01], small * (1 + 1e-3));
    rows.forEach((row, place) => {
      const slope = (more.resin[place]! - at.resin[place]!) / Math.log1p(1e-3);
      expect(Math.abs(row[2]! - 0.25 * slope)).toBeLessThan(1e-3 * 0.25 * slope + 1e-12);
    });
  });

  it.each(KINDS)('%s: of loaded baths too, but for what thicker liquid drags out more', (_, event) => {
    const loaded = [...FILLED, { ...WASH, carry_g: 200, drag_ml: [0, 60] }];
    const at = washAfter(loaded, event, [0, 0]);
    const rows = passWash(2, at.load, at.outcome, 0.25);
    const largest = Math.max(...at.outcome.shares);
    for (const [column, more] of [
      [0, [1, 0]],
      [1, [0, 1]],
    ] as const) {
      const moved = washAfter(loaded, event, [...more]);
      rows.forEach((row, place) => {
        const slope = moved.resin[place]! - at.resin[place]!;
        // Neglected: the share answers to resin by w_r times 2.6, ln(µ_r/µ_s)/2, of itself, with w_r up to 0.06.
        expect(Math.abs(row[column]! - slope)).toBeLessThan(0.2 * largest);
      });
    }
  });

  it('a bath that is not washed in keeps its own', () => {
    const { load, outcome } = washAfter(FILLED, { area_cm2: 400, baths: ['clean'], minutes: [4] }, [0, 0]);
    expect([...passWash(2, load, outcome, 0.25)[0]!]).toEqual([1, 0, 0]);
  });
});

describe('the scatter of washes taken together', () => {
  it('is that of a sum: n alike have 0.25/√n', () => {
    const { load } = washAfter(FILLED, { area_cm2: 400 }, [0, 0]);
    expect(scatterOf({ load, carryG: 12, carrySquareG2: 4 * 9 })).toBeCloseTo(0.125, 12);
    expect(scatterOf({ load, carryG: 7, carrySquareG2: 9 + 16 })).toBeCloseTo((0.25 * 5) / 7, 12);
  });

  it('is none for a carry-over that was weighed, and for none at all', () => {
    const { load } = washAfter(FILLED, { area_cm2: 400 }, [0, 0]);
    expect(scatterOf({ load: { ...load, givenCarryG: 3 }, carryG: 3, carrySquareG2: 9 })).toBe(0);
    expect(scatterOf({ load, carryG: 0, carrySquareG2: 0 })).toBe(0);
  });
});

describe('algebra', () => {
  /** Grams; less than a nanogram is none, since squares of what is smaller leave the range of doubles. */
  const number = fc
    .double({ min: -3, max: 3, noNaN: true })
    .map((grams) => (Math.abs(grams) < 1e-9 ? 0 : grams));
  const square = (size: number) =>
    fc.array(fc.array(number, { minLength: size, maxLength: size }), { minLength: size, maxLength: size });

  it('T R Tᵀ + b bᵀ as a general library does it', () => {
    fc.assert(
      fc.property(
        square(3),
        square(3),
        fc.array(number, { minLength: 3, maxLength: 3 }),
        (half, turn, column) => {
          const covariance = multiply(half, transpose(half)) as number[][];
          const rows = turn.map((row, place) => Float64Array.of(...row, column[place]!));
          const found = passed(
            covariance.map((row) => Float64Array.from(row)),
            rows,
          );
          addColumn(found, column);
          const wanted = multiply(multiply(turn, covariance), transpose(turn)) as number[][];
          found.forEach((row, one) => {
            row.forEach((value, other) => {
              expect(value).toBeCloseTo(wanted[one]![other]! + column[one]! * column[other]!, 8);
            });
          });
        },
      ),
    );
  });

  it('the root times itself is the covariance, of baths that hold nothing and of baths that go together, too', () => {
    const cases = fc.oneof(
      square(3),
      // Of lower rank.
      fc.array(number, { minLength: 3, maxLength: 3 }).map((column) => column.map((one) => [one])),
      fc.constant<number[][]>([[0, 0], [2, 0], [0, 0]]), // biome-ignore format: a matrix
    );
    fc.assert(
      fc.property(cases, (half) => {
        const covariance = multiply(half, transpose(half)) as number[][];
        const root = rootOf(covariance.map((row) => Float64Array.from(row)));
        const plain = root.map((row) => [...row]);
        const again = multiply(plain, transpose(plain)) as number[][];
        const largest = Math.max(1e-6, ...covariance.map((row, place) => row[place]!));
        again.forEach((row, one) => {
          row.forEach((value, other) => {
            expect(Math.abs(value - covariance[one]![other]!)).toBeLessThan(1e-6 * largest);
          });
        });
        plain.forEach((row, one) => {
          expect(row.slice(one + 1).every((value) => value === 0)).toBe(true);
        });
      }),
    );
  });
});

const DRAWS = 2000;

/** Resin of both baths over many replays in which each wash brings its median times e^(0.25 z). */
function drawn(drafts: readonly Draft[]): number[][] {
  const plain = run(PAIR, drafts);
  const carries = new Map(plain.seen.map(({ entry, wash }) => [entry.place, wash?.carryG]));
  const normal = normalFrom(23);
  const found: number[][] = plain.shop.tubs.map(() => []);
  for (let draw = 0; draw < DRAWS; draw += 1) {
    const scattered = drafts.map((draft, place): Draft => {
      const carry = carries.get(place);
      if (draft.what !== 'wash' || carry === undefined || draft.carry_g !== undefined) return draft;
      return { ...draft, carry_g: carry * Math.exp(0.25 * normal()) };
    });
    const { baths } = replay(plain.shop, entriesOf(scattered), START_MS);
    baths.forEach((bath, place) => {
      found[place]!.push(resinMass(bath));
    });
  }
  return found;
}

describe('the covariance along a history, against 2000 replays with scattered carry-over', () => {
  const rotate: Draft = { what: 'rotate', solvent: 'ipa99' };
  it.each<[string, Draft[]]>([
    ['one wash', washes(1)],
    ['thirty', washes(30)],
    [
      'thirty of unlike sizes, some of them weighed',
      [
        ...washes(10),
        ...washes(5, { what: 'wash', parts: { model: 2 }, agitation: 'stirred' }),
        ...washes(5, { what: 'wash', parts: { model: 9 }, carry_g: 12 }),
        ...washes(10, { what: 'wash', parts: { mask: 4 }, drained_min: 0 }),
      ],
    ],
    ['with a rotation among them', [...washes(15), rotate, ...washes(12)]],
    [
      'with a drain, a top-up from clean and one to the mark',
      [
        ...washes(12),
        { what: 'drain', bath: 'dirty', ml: 1500 },
        { what: 'top-up', bath: 'dirty', from: 'clean', ml: 900 },
        ...washes(3),
        { what: 'top-up', bath: 'clean', solvent: 'ipa99', to: 'mark' },
        ...washes(3),
      ],
    ],
    [
      'with a refill of clean',
      [...washes(12), { what: 'refill', bath: 'clean', solvent: 'ipa99' }, ...washes(4)],
    ],
  ])('%s: within three standard errors', (_, drafts) => {
    // biome-ignore format: one history a line
    const all = [...FILLED, ...drafts];
    const { belief } = believing(PAIR, all);
    const sample = drawn(all);
    const of = (one: number, other: number) => covarianceOf(sample[one]!, sample[other]!);
    for (const [one, other] of [
      [0, 0],
      [1, 1],
      [0, 1],
    ] as const) {
      // Standard error of a covariance of near-normal figures.
      const error = Math.sqrt((of(one, one) * of(other, other) + of(one, other) ** 2) / DRAWS);
      const found = belief.ensemble.scatter[one]![other]!;
      // To first order in the scatter, 3 % low of one wash; and what taking washes together costs, see below.
      expect(
        Math.abs(found - of(one, other)),
        `${one}${other}: ${found} against ${of(one, other)}`,
      ).toBeLessThan(3 * error + 0.07 * Math.abs(of(one, other)));
    }
  });
});

describe('the covariance of washes that the worlds take together, against differences wash by wash', () => {
  /** Σ_j (∂m/∂z_j)(∂m/∂z_j)ᵀ, each wash in turn bringing a thousandth more and less than the mean of its scatter. */
  function byDifferences(drafts: readonly Draft[]): number[][] {
    const plain = run(PAIR, drafts);
    const mean = Math.exp(0.25 ** 2 / 2);
    const carries = new Map(plain.seen.map(({ entry, wash }) => [entry.place, mean * (wash?.carryG ?? 0)]));
    const withCarry = (place: number, factor: number) => {
      const given = drafts.map((draft, at): Draft => {
        const carry_g = carries.get(at)! * (at === place ? factor : 1);
        return draft.what === 'wash' ? { ...draft, carry_g } : draft;
      });
      return replay(plain.shop, entriesOf(given), START_MS).baths.map(resinMass);
    };
    const found = noCovariance(2);
    drafts.forEach((draft, place) => {
      if (draft.what !== 'wash') return;
      const low = withCarry(place, 0.999);
      addColumn(
        found,
        withCarry(place, 1.001).map((grams, bath) => (0.25 * (grams - low[bath]!)) / 0.002),
      );
    });
    return found.map((row) => [...row]);
  }

  // Measured: dirty 0.95 to 1.01; clean 0.98 to 1.00 after a still soak, 0.82 where all of it comes by films.
  it.each([
    ['still', 1, 0.999],
    ['still', 10, 0.94],
    ['still', 30, 0.94],
    ['still', 60, 0.94],
    ['ultrasonic', 1, 0.999],
    ['ultrasonic', 28, 0.8],
    ['ultrasonic', 60, 0.8],
  ] as const)('%s, %d washes: variances from %s to 1.02', (agitation, count, least) => {
    const drafts = [...FILLED, ...washes(count, { ...WASH, agitation } as Draft)];
    const { scatter } = believing(PAIR, drafts).belief.ensemble;
    const wanted = byDifferences(drafts);
    for (const bath of [0, 1]) {
      const ratio = scatter[bath]![bath]! / wanted[bath]![bath]!;
      expect(ratio).toBeLessThan(1.02);
      expect(ratio).toBeGreaterThan(least);
    }
  });
});

describe('liquid that moves takes its scatter along', () => {
  const header = headerOf({ dirty: { mark_ml: 3000 }, clean: {} });
  const before = [
    { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 3000 },
    { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 4000 },
    ...washes(20),
  ] as Draft[];
  const scatterAfter = (...moves: Draft[]) =>
    believing(header, [...before, ...moves]).belief.ensemble.scatter.map((row) => [...row]);
  const start = scatterAfter();
  const volumes = believing(header, before);
  const volumeMl = volumes.replayed.baths.map((bath) => bathVolume(bath, volumes.shop.resins));
  const near = (found: number[][], wanted: number[][]) => {
    found.forEach((row, one) => {
      row.forEach((value, other) => {
        expect(value / start[0]![0]!).toBeCloseTo(wanted[one]![other]! / start[0]![0]!, 9);
      });
    });
  };

  it('from clean to dirty in a rotation, of which what does not fit is gone', () => {
    const share = 3000 / volumeMl[1]!;
    const wanted = [[share ** 2 * start[1]![1]!, 0], [0, 0]]; // biome-ignore format: a matrix
    near(scatterAfter({ what: 'rotate', solvent: 'ipa99' }), wanted);
  });

  it('out of a bath that is refilled', () => {
    const wanted = [[0, 0], [0, start[1]![1]!]]; // biome-ignore format: a matrix
    near(scatterAfter({ what: 'refill', bath: 'dirty', solvent: 'ipa99' }), wanted);
  });

  it('in part with a drain', () => {
    const stays = 1 - 1200 / volumeMl[0]!;
    const wanted = [
      [stays ** 2 * start[0]![0]!, stays * start[0]![1]!],
      [stays * start[0]![1]!, start[1]![1]!],
    ];
    near(scatterAfter({ what: 'drain', bath: 'dirty', ml: 1200 }), wanted);
    near(scatterAfter({ what: 'drain', bath: 'dirty', all: true }), [[0, 0], [0, start[1]![1]!]]); // biome-ignore format: a matrix
  });

  it('with a top-up from clean, and none is lost by it', () => {
    const found = scatterAfter(
      { what: 'drain', bath: 'dirty', ml: 1200 },
      { what: 'top-up', bath: 'dirty', from: 'clean', ml: 1000 },
    );
    const stays = 1 - 1200 / volumeMl[0]!;
    const share = 1000 / volumeMl[1]!;
    // Grams d, k become s d + q k and (1 − q) k.
    const [d, dk, k] = [start[0]![0]!, start[0]![1]!, start[1]![1]!];
    near(found, [
      [
        stays ** 2 * d + 2 * stays * share * dk + share ** 2 * k,
        stays * (1 - share) * dk + share * (1 - share) * k,
      ],
      [stays * (1 - share) * dk + share * (1 - share) * k, (1 - share) ** 2 * k],
    ]);
  });

  it('not at all with fresh solvent, whose resin is none', () => {
    near(scatterAfter({ what: 'top-up', bath: 'dirty', solvent: 'ipa99', ml: 300 }), start);
    near(
      scatterAfter(
        { what: 'drain', bath: 'clean', all: true },
        { what: 'fill', bath: 'clean', solvent: 'ipa99', ml: 500 },
      ),
      [
        [start[0]![0]!, 0],
        [0, 0],
      ],
    );
  });
});

it('nothing is in doubt before the first wash', () => {
  expect(noCovariance(2).map((row) => [...row])).toEqual([[0, 0], [0, 0]]); // biome-ignore format: a matrix
  expect(believing(PAIR, FILLED).belief.ensemble.scatter.map((row) => [...row])).toEqual([[0, 0], [0, 0]]); // biome-ignore format: a matrix
});
