/** Washes that were logged from memory: the best estimate is that of the same washes counted, the band is wider. */
import { describe, expect, it } from 'vitest';
import { ESTIMATED_SCATTER, SCATTER_MEAN, washScatter } from '../../src/belief/factors.ts';
import { estimateBaths } from '../../src/outlook/estimate.ts';
import { type Draft, FILLED, headerOf, PAIR } from '../bath/bench.ts';
import { believing, meanOf, normalFrom, sdOf } from './bench.ts';

const WASH: Draft = { what: 'wash', parts: { model: 6 } };
const FIVE: Draft[] = [1, 2, 3, 4, 5].map((hour) => ({ ...WASH, hour }));
const fromMemory = (drafts: Draft[]): Draft[] => drafts.map((draft) => ({ ...draft, estimated: true }));

function bands(drafts: Draft[]) {
  const { shop, replayed, clockMs, belief } = believing(PAIR, [...FILLED, ...drafts]);
  return estimateBaths(shop, replayed, clockMs, belief).map(({ resinG }) => ({
    p05: resinG.p05!,
    p50: resinG.p50,
    p95: resinG.p95!,
  }));
}

describe('a wash from memory', () => {
  it('leaves the best estimate where it is, and widens the band of both baths', () => {
    const counted = bands(FIVE);
    bands(fromMemory(FIVE)).forEach((band, place) => {
      expect(band.p50).toBe(counted[place]!.p50);
      expect(band.p95).toBeGreaterThan(counted[place]!.p95 * 1.02);
      expect(band.p05).toBeLessThan(counted[place]!.p05 * 0.98);
    });
  });

  it('of many the band widens less', () => {
    const wider = (drafts: Draft[]) => bands(fromMemory(drafts))[0]!.p95 / bands(drafts)[0]!.p95;
    const many = Array.from({ length: 20 }, (_, place): Draft => ({ ...WASH, hour: 1 + place / 4 }));
    expect(wider(many)).toBeGreaterThan(1);
    expect(wider(many)).toBeLessThan(wider(FIVE));
    expect(wider(FIVE)).toBeLessThan(wider(FIVE.slice(0, 1)));
  });

  it('joins no washes that were counted', () => {
    const mixed = FIVE.map((draft, place) => (place % 2 ? draft : { ...draft, estimated: true }));
    const [band, counted, all] = [mixed, FIVE, fromMemory(FIVE)].map((drafts) => bands(drafts)[0]!);
    expect(band!.p50).toBe(counted!.p50);
    expect(band!.p95).toBeGreaterThan(counted!.p95);
    expect(band!.p95).toBeLessThan(all!.p95);
  });

  it('false is as if nothing was said', () => {
    expect(bands(FIVE.map((draft) => ({ ...draft, estimated: false })))).toEqual(bands(FIVE));
  });
});

describe('how unsure it is', () => {
  // All factors known but for none: nothing dragged out, everything dissolved, no air. Then a bath holds the sum of what came in.
  const still = { evaporation: 0, moisture: 0 };
  const header = headerOf(
    { dirty: { ...PAIR.baths.dirty!, ...still }, clean: { ...PAIR.baths.clean!, ...still } },
    { factors: { carry: 1, drag: 0, dissolution: 1 } },
  );
  const sum: Draft = { what: 'wash', area_cm2: 500, baths: ['dirty'], minutes: [1440], drag_ml: [0] };
  const scatterOfSum = (count: number, estimated: boolean) => {
    const drafts = Array.from(
      { length: count },
      (_, place): Draft => ({ ...sum, hour: place / 10, estimated }),
    );
    const { belief, replayed } = believing(header, [...FILLED, ...drafts]);
    const grams = replayed.baths[0]!.resin.reduce((all, one) => all + one, 0);
    return Math.sqrt(belief.ensemble.scatter[0]![0]!) / grams;
  };

  it.each([1, 5, 20])('of %d alike the sum is unsure by s/√n (variance of a sum)', (count) => {
    const s = Math.sqrt(0.25 ** 2 + 5 * 0.2 ** 2 + 0.5 ** 2);
    expect(scatterOfSum(count, true)).toBeCloseTo((SCATTER_MEAN * s) / Math.sqrt(count), 4);
    expect(scatterOfSum(count, false)).toBeCloseTo((SCATTER_MEAN * 0.25) / Math.sqrt(count), 4);
  });

  it('is what "about five" of loads that differ by half comes to, drawn', () => {
    const normal = normalFrom(41);
    const drawn = Array.from({ length: 40_000 }, () => {
      // Somebody says five: the true number is off by a fifth. Each load differs from the mean by half, and scatters by itself.
      const times = 1 + 0.2 * normal();
      const logSd = Math.sqrt(Math.log(1 + 0.5 ** 2));
      const load = () => Math.exp(logSd * normal() - logSd ** 2 / 2) * Math.exp(0.25 * normal());
      return times * (load() + load() + load() + load() + load());
    });
    // 40 000 draws tell a standard deviation to half a percent; products of the parts, below 6 % of the variance, are left out.
    const relative = sdOf(drawn) / meanOf(drawn);
    expect(scatterOfSum(5, true) / SCATTER_MEAN / relative).toBeGreaterThan(0.93);
    expect(scatterOfSum(5, true) / SCATTER_MEAN / relative).toBeLessThan(1.07);
  });

  it('is the worked example of its comment', () => {
    expect(ESTIMATED_SCATTER).toBeCloseTo(0.67, 2);
    expect(washScatter({})).toBe(0.25);
    expect(washScatter({ estimated: true })).toBeCloseTo(Math.sqrt(0.25 ** 2 + 0.45), 12);
  });

  it('of a carry-over that was measured, how often there was one is unsure', () => {
    const weighed = { ...sum, carry_g: 6 };
    const sdOfOne = (draft: Draft) => {
      const { belief } = believing(header, [...FILLED, { ...draft, hour: 1 }]);
      return Math.sqrt(belief.ensemble.scatter[0]![0]!) / 6;
    };
    expect(sdOfOne(weighed)).toBe(0);
    expect(sdOfOne({ ...weighed, estimated: true })).toBeCloseTo(ESTIMATED_SCATTER, 6);
  });
});
