/**
 * Bands and updates against what can be written down: log-normal quantiles, a conjugate normal, the Kalman filter by a library.
 */
import { multiply, transpose } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { takeIn } from '../../src/belief/update.ts';
import { factorBand } from '../../src/outlook/factors-band.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';

const DAY = 86_400_000;
/** NIST/SEMATECH e-Handbook 1.3.6.7.1: 95 % of a standard normal lies below. */
const Z95 = 1.6449;

const status = (drafts: Draft[], header = PAIR) =>
  statusOf(openShop(header), entriesOf(drafts), START_MS + 30 * DAY);

describe('the prior', () => {
  const header = headerOf({ dirty: OPEN, clean: OPEN });

  it('of every factor has the quantiles of its log-normal', () => {
    const { factors, belief } = status(FILLED, header);
    for (const [name, sd, tub] of [
      ['carry', 0.45],
      ['drag', 0.5],
      ['dissolution', 0.35],
      ['evaporation', 0.7, 0],
      ['moisture', 0.7, 1],
    ] as const) {
      const band = factorBand(factors, belief, tub === undefined ? { name } : { name, tub });
      expect(band.p50).toBe(1);
      expect(band.p05! / Math.exp(-Z95 * sd)).toBeCloseTo(1, 3);
      expect(band.p95! / Math.exp(Z95 * sd)).toBeCloseTo(1, 3);
    }
  });

  it('of the resin in a bath after one long wash is log-normal: factor and scatter of the wash', () => {
    // All that clings dissolves and nothing is dragged out: resin = κ_c ε c, ln sd √(0.45² + 0.25²).
    const wash: Draft = {
      what: 'wash',
      parts: { model: 6 },
      minutes: [1440],
      baths: ['dirty'],
      drag_ml: [0],
      agitation: 'ultrasonic',
    };
    const [dirty] = status([...FILLED, wash]).estimates;
    const { p05, p50, p95 } = dirty!.resinG;
    const sd = Math.sqrt(0.45 ** 2 + 0.25 ** 2);
    expect(p05! / (p50 * Math.exp(-Z95 * sd))).toBeCloseTo(1, 3);
    expect(p95! / (p50 * Math.exp(Z95 * sd))).toBeCloseTo(1, 3);
  });

  it('leaves out what was measured', () => {
    const wash: Draft = {
      what: 'wash',
      parts: { model: 6 },
      carry_g: 5,
      drag_ml: [10, 10],
      minutes: [1440, 5],
    };
    const { estimates, lastWash } = status([...FILLED, { ...wash, agitation: 'ultrasonic' } as Draft]);
    expect(estimates[0]!.resinG.p95! / estimates[0]!.resinG.p05!).toBeLessThan(1 + 1e-9);
    expect(lastWash!.carryG).toEqual({ p50: 5 });
  });
});

describe('the conjugate case', () => {
  // All of a load comes off, so a weighing is y = κ_c ε c with 5 % error: in logarithms a normal mean with known variance.
  const wash = (hour: number): Draft => ({
    what: 'wash',
    parts: { model: 6 },
    minutes: [1440, 1440],
    drag_ml: [0, 0],
    agitation: 'ultrasonic',
    hour,
  });

  it.each([1, 3, 8])('weighing %d loads gives the normal posterior of ln κ_c', (count) => {
    const hours = Array.from({ length: count }, (_, nth) => 24 * (nth + 1));
    const washes = hours.map(wash);
    const carryG = status([...FILLED, washes[0]!]).lastWash!.carryG.p50;
    const ratios = hours.map((_, nth) => 1.2 + 0.15 * Math.cos(2.1 * nth));
    const drafts = [
      ...FILLED,
      ...washes.flatMap((one, nth): Draft[] => [
        one,
        {
          what: 'weighed',
          wash: `e${FILLED.length + 2 * nth}`,
          wet_g: 200 + carryG * ratios[nth]!,
          clean_g: 200,
          hour: one.hour! + 2,
        },
      ]),
    ];
    const { factors, belief } = status(drafts);
    // Conjugate normal: prior N(0, 0.45²), each ln y with variance 0.25² + 0.05² (5 % of y as a logarithm, first order).
    const noise = 0.25 ** 2 + 0.05 ** 2;
    const variance = 1 / (1 / 0.45 ** 2 + count / noise);
    const mean = (variance * ratios.reduce((sum, ratio) => sum + Math.log(ratio), 0)) / noise;
    const band = factorBand(factors, belief, { name: 'carry' });
    expect(belief.compared).toHaveLength(count);
    expect(Math.abs(Math.log(band.p50) - mean)).toBeLessThan(0.02 * Math.sqrt(variance) + 0.004);
    const sd = Math.log(band.p95! / band.p05!) / (2 * Z95);
    expect(sd / Math.sqrt(variance)).toBeCloseTo(1, 1);
    expect(Math.abs(sd / Math.sqrt(variance) - 1)).toBeLessThan(0.02);
  });
});

describe('a straight answer', () => {
  it('is the Kalman filter, by the matrices of a general library', () => {
    const slopes = [0.8, -1.7, 0.2, 0.05, 2.4];
    const [sd, value, base] = [0.9, 4.2, 1.1];
    const learned = takeIn(
      {
        unknowns: slopes.length,
        see: (u) => base + slopes.reduce((sum, slope, place) => sum + slope * u[place]!, 0),
        slopes: () => Float64Array.from(slopes),
      },
      value,
      sd,
    );
    // K = P hᵀ (h P hᵀ + r²)⁻¹ with P = I: Kalman (1960), as in any textbook.
    const h = [slopes];
    const total = (multiply(h, transpose(h)) as number[][])[0]![0]! + sd * sd;
    const gain = slopes.map((slope) => slope / total);
    const mean = gain.map((one) => one * (value - base));
    const outer = multiply(
      gain.map((one) => [one]),
      h,
    ) as number[][];
    const ours = [...learned.direction].map((one) => one * learned.mean);
    mean.forEach((one, place) => {
      expect(ours[place]).toBeCloseTo(one, 9);
    });
    // P − K h P, against I + (σ² − 1) g gᵀ.
    outer.forEach((row, one) => {
      row.forEach((entry, other) => {
        const kalman = (one === other ? 1 : 0) - entry;
        const mine =
          (one === other ? 1 : 0) +
          (learned.sd ** 2 - 1) * learned.direction[one]! * learned.direction[other]!;
        expect(mine).toBeCloseTo(kalman, 9);
      });
    });
    expect(learned.skew).toBeCloseTo(0, 9);
    expect(learned.misfit).toBeCloseTo(Math.abs(value - base) / Math.sqrt(total), 9);
  });
});
