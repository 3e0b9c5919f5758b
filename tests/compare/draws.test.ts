/** Worlds drawn from what is known, against the priors, a conjugate normal and weighted draws of the model's own formulas. */
import { describe, expect, it } from 'vitest';
import type { AllFactors } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { drawFactors, factorsFor } from '../../src/compare/draws.ts';
import type { Header } from '../../src/ledger/header.ts';
import { statusOf } from '../../src/outlook/status.ts';
import { mixtureDensity } from '../../src/substance/mixture.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from '../bath/bench.ts';
import { covarianceOf, meanOf, normalFrom, sdOf } from '../belief/bench.ts';

const MANY = 8000;
/** Every second draw is the mirror of one before, so that half of them are free. */
const FREE = MANY / 2;
/** Four standard errors. */
const FAR = 4;

function drawn(header: Header, drafts: Draft[], many = MANY, seed = 1): AllFactors[] {
  const shop = openShop(header);
  const { belief } = statusOf(shop, entriesOf(drafts), START_MS + 40 * 86_400_000);
  return drawFactors(belief.ensemble, many, seed);
}

/** ln κ by factor, of every draw; air by tub. */
function logsOf(draws: readonly AllFactors[]): Record<string, number[]> {
  const logs = (of: (draw: AllFactors) => number) => draws.map((draw) => Math.log(of(draw)));
  const tubs = draws[0]!.air.map((_, tub): [string, number[]][] => [
    [`evaporation ${tub}`, logs(({ air }) => air[tub]!.evaporation)],
    [`moisture ${tub}`, logs(({ air }) => air[tub]!.moisture)],
  ]);
  return {
    carry: logs(({ carry }) => carry),
    drag: logs(({ drag }) => drag),
    dissolution: logs(({ dissolution }) => dissolution),
    ...Object.fromEntries(tubs.flat()),
  };
}

const correlation = (one: number[], other: number[]) => covarianceOf(one, other) / (sdOf(one) * sdOf(other));

/** Grams on six solid arches of 32 mL, drained 10 minutes in a room of so many °C, 400 mPa·s at 25 °C: MODEL 1.3 and 2, by hand. */
function carryOfSix(roomC: number): number {
  const thicker = Math.sqrt(Math.exp(-0.08 * (roomC - 25)));
  return (6 * 8.5 * 32 ** (2 / 3) * 1.2 * 22 * thicker) / Math.sqrt(10) / 1000;
}

describe('before any reading', () => {
  const logs = logsOf(drawn(headerOf({ dirty: OPEN, clean: OPEN }), FILLED));

  it.each([
    ['carry', 0.45],
    ['drag', 0.5],
    ['dissolution', 0.35],
    ['evaporation 0', 0.7],
    ['evaporation 1', 0.7],
    ['moisture 0', 0.7],
    ['moisture 1', 0.7],
  ])('ln of %s is normal about 0 with the standard deviation %f of MODEL 6', (name, sd) => {
    const sample = logs[name]!;
    expect(meanOf(sample)).toBeCloseTo(0, 12);
    expect(Math.abs(sdOf(sample) / sd - 1)).toBeLessThan(FAR / Math.sqrt(2 * FREE));
    const fourth = meanOf(sample.map((one) => (one / sd) ** 4));
    // Of a normal the fourth moment is 3, and its square's error √96.
    expect(Math.abs(fourth - 3)).toBeLessThan((FAR * Math.sqrt(96)) / Math.sqrt(FREE));
  });

  it('no factor goes with another', () => {
    const names = Object.keys(logs);
    for (const [place, one] of names.entries()) {
      for (const other of names.slice(place + 1))
        expect(Math.abs(correlation(logs[one]!, logs[other]!)), `${one}, ${other}`).toBeLessThan(
          FAR / Math.sqrt(FREE),
        );
    }
  });

  it('keeps the medians of the ledger, and factors that it switches off', () => {
    const header = headerOf({ dirty: { ...OPEN, evaporation: 1.8 }, clean: { ...OPEN, moisture: 0 } }, { factors: { carry: 0.6 } }); // biome-ignore format: one line
    const draws = drawn(header, FILLED, 200);
    const own = logsOf(draws);
    expect(meanOf(own.carry!)).toBeCloseTo(Math.log(0.6), 12);
    expect(meanOf(own['evaporation 0']!)).toBeCloseTo(Math.log(1.8), 12);
    for (const { air } of draws) expect(air[1]!.moisture).toBe(0);
  });
});

describe('draws', () => {
  it('mirror each other in pairs', () => {
    const logs = logsOf(drawn(PAIR, FILLED, 100));
    for (const name of ['carry', 'drag', 'dissolution']) {
      for (let pair = 0; pair < 100; pair += 2)
        expect(logs[name]![pair]! + logs[name]![pair + 1]!).toBeCloseTo(0, 12);
      expect(new Set(logs[name]!.map(Math.abs).map((one) => one.toFixed(9))).size).toBe(50);
    }
  });

  it('are the same from the same seed, others from another, and the first of many are those of few', () => {
    expect(drawn(PAIR, FILLED, 20)).toEqual(drawn(PAIR, FILLED, 20));
    expect(drawn(PAIR, FILLED, 20)).toEqual(drawn(PAIR, FILLED, 60).slice(0, 20));
    expect(drawn(PAIR, FILLED, 20, 2)[0]!.carry).not.toBe(drawn(PAIR, FILLED, 20)[0]!.carry);
  });

  it('bring each bath of a route the air of its place', () => {
    const air = [
      { evaporation: 2, moisture: 3 },
      { evaporation: 5, moisture: 7 },
    ];
    const found = factorsFor([1, 1, 0], { carry: 1.1, drag: 1.2, dissolution: 1.3, air });
    expect(found).toEqual({
      carry: 1.1,
      drag: 1.2,
      dissolution: 1.3,
      evaporation: Float64Array.of(5, 5, 2),
      moisture: Float64Array.of(7, 7, 3),
    });
  });
});

describe('after weighed loads', () => {
  // All of a load comes off, so a weighing is y = κ_c ε c with 5 % error: in logarithms a normal mean with known variance.
  it.each([1, 4])('%d of them: the conjugate normal of ln κ_c, and the priors of the rest', (count) => {
    const ratios = Array.from({ length: count }, (_, nth) => 1.3 + 0.2 * Math.cos(2.1 * nth));
    const wash = (hour: number): Draft => ({
      what: 'wash',
      parts: { model: 6 },
      minutes: [1440, 1440],
      drag_ml: [0, 0],
      agitation: 'ultrasonic',
      hour,
    });
    const carryG = carryOfSix(22);
    const drafts = ratios.flatMap((ratio, nth): Draft[] => [
      wash(24 * (nth + 1)),
      { what: 'weighed', wash: `e${FILLED.length + 2 * nth}`, wet_g: 200 + carryG * ratio, clean_g: 200, hour: 24 * (nth + 1) + 2 },
    ]); // biome-ignore format: one event a line
    const logs = logsOf(drawn(PAIR, [...FILLED, ...drafts]));
    const noise = 0.25 ** 2 + 0.05 ** 2;
    const variance = 1 / (1 / 0.45 ** 2 + count / noise);
    const mean = (variance * ratios.reduce((sum, ratio) => sum + Math.log(ratio), 0)) / noise;
    expect(Math.abs(meanOf(logs.carry!) - mean)).toBeLessThan(0.03 * Math.sqrt(variance) + 0.004);
    expect(Math.abs(sdOf(logs.carry!) / Math.sqrt(variance) - 1)).toBeLessThan(
      0.02 + FAR / Math.sqrt(2 * FREE),
    );
    expect(Math.abs(sdOf(logs.drag!) / 0.5 - 1)).toBeLessThan(FAR / Math.sqrt(2 * FREE));
    expect(Math.abs(correlation(logs.carry!, logs.drag!))).toBeLessThan(FAR / Math.sqrt(FREE));
  });
});

describe('after a reading of resin', () => {
  // Ten short washes in the dirty bath, nothing carried out: resin = Σ κ_c ε c (1 − e^(−t/(κ_τ τ))), so that more on the parts and slower
  // dissolving cannot be told apart. The answer by the formulas of MODEL 2, 3 and 6, draws of the priors weighted by the reading.
  const [minutes, tauMin, sdPct] = [4, 6, 0.05];
  const [filmG, many] = [carryOfSix(22), 10];
  const solventG = 4000 * mixtureDensity(0.995, 20);

  function weighted(readPct: number) {
    const next = normalFrom(17);
    const sample = Array.from({ length: 200_000 }, () => {
      const [carry, dissolution] = [0.45 * next(), 0.35 * next()];
      const scatter = Array.from({ length: many }, () => Math.exp(0.25 * next())).reduce(
        (sum, one) => sum + one,
      );
      const comesOff = 1 - Math.exp(-minutes / (tauMin * Math.exp(dissolution)));
      const resinG = filmG * Math.exp(carry) * scatter * comesOff;
      const off = (readPct - (100 * resinG) / (resinG + solventG)) / sdPct;
      return { carry, dissolution, weight: Math.exp(-off * off * 0.5) };
    });
    const all = sample.reduce((sum, { weight }) => sum + weight, 0);
    const mean = (of: (one: (typeof sample)[number]) => number) =>
      sample.reduce((sum, one) => sum + one.weight * of(one), 0) / all;
    const [carry, dissolution] = [mean((one) => one.carry), mean((one) => one.dissolution)];
    const [sdCarry, sdDissolution] = [
      Math.sqrt(mean((one) => (one.carry - carry) ** 2)),
      Math.sqrt(mean((one) => (one.dissolution - dissolution) ** 2)),
    ];
    const together = mean((one) => (one.carry - carry) * (one.dissolution - dissolution));
    return { carry, dissolution, sdCarry, sdDissolution, correlation: together / (sdCarry * sdDissolution) };
  }

  it.each([0.45, 0.75, 1.2])(
    '%f wt%: mean, spread and correlation of carry-over and dissolution time are those of weighted draws',
    (readPct) => {
      const washes = Array.from(
        { length: many },
        (_, hour): Draft => ({ what: 'wash', parts: { model: 6 }, minutes: [minutes], drag_ml: [0], baths: ['dirty'], agitation: 'still', hour }),
      ); // biome-ignore format: one event a line
      const reading: Draft = { what: 'reading', bath: 'dirty', resin_wt_pct: readPct, sd: sdPct, hour: many };
      const logs = logsOf(drawn(PAIR, [...FILLED, ...washes, reading]));
      const wanted = weighted(readPct);
      expect(wanted.correlation).toBeGreaterThan(0.2);
      // Chance leaves 2 % of a standard deviation on either side; the rest is what a few worlds may miss of a curve.
      expect(Math.abs(meanOf(logs.carry!) - wanted.carry)).toBeLessThan(0.05 * wanted.sdCarry);
      expect(Math.abs(meanOf(logs.dissolution!) - wanted.dissolution)).toBeLessThan(
        0.05 * wanted.sdDissolution,
      );
      expect(Math.abs(sdOf(logs.carry!) / wanted.sdCarry - 1)).toBeLessThan(0.06);
      expect(Math.abs(sdOf(logs.dissolution!) / wanted.sdDissolution - 1)).toBeLessThan(0.06);
      expect(Math.abs(correlation(logs.carry!, logs.dissolution!) - wanted.correlation)).toBeLessThan(0.07);
    },
  );
});
