import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { priorMedians, replay } from '../../src/bath/replay.ts';
import { PRIOR_SD } from '../../src/belief/factors.ts';
import { atMeanScatter } from '../../src/belief/lump.ts';
import { daysAhead } from '../../src/outlook/until-days.ts';
import { type Course, runCourse } from '../../src/outlook/until-run.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN } from '../bath/bench.ts';
import { normalFrom, sampleQuantile } from '../belief/bench.ts';
import { at, DAYS, MONDAY, more } from './until-bench.ts';

describe('the bands', () => {
  it('hold the best estimate, in whole changes, and grow with what is not known', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 1, max: 10 }),
        fc.boolean(),
        (weeks, perDay, model, airy) => {
          const tub = airy ? OPEN : {};
          const drafts = [2, 30, 54].map((hour) => ({ what: 'wash', parts: { model }, hour }) as Draft);
          const header = headerOf({ dirty: tub, clean: tub }, more);
          const { until } = at(header, [...FILLED, ...drafts], weeks, perDay);
          const { changes, solventMl, wasteMl, wasteG, cost, loads, parts } = until;
          for (const band of [changes, solventMl, wasteMl, wasteG, cost!, loads, parts]) {
            expect(band.p05!).toBeLessThanOrEqual(band.p50);
            expect(band.p50).toBeLessThanOrEqual(band.p95!);
            expect(band.p05!).toBeGreaterThanOrEqual(0);
          }
          for (const end of [changes.p05, changes.p50, changes.p95]) expect(Number.isInteger(end)).toBe(true);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('end where those of 500 drawn shops do', () => {
    const header = headerOf({ dirty: OPEN, clean: OPEN }, more);
    const drafts = [2, 30, 54].map((hour) => ({ what: 'wash', parts: { model: 7 }, hour }) as Draft);
    const { until, status, outlook, shop } = at(header, [...FILLED, ...drafts], 20, 4);
    const days = daysAhead(MONDAY, until.toMs, { pace: outlook.pace, days: DAYS });
    const normal = normalFrom(1926);
    const drawn = Array.from({ length: 500 }, () => {
      const factors = priorMedians(shop);
      for (const name of ['carry', 'drag', 'dissolution'] as const)
        factors[name] *= Math.exp(PRIOR_SD[name] * normal());
      for (const air of factors.air)
        for (const name of ['evaporation', 'moisture'] as const)
          air[name] *= Math.exp(PRIOR_SD[name] * normal());
      const { baths } = replay(shop, entriesOf([...FILLED, ...drafts]), MONDAY, { factors });
      const load = atMeanScatter(outlook.load);
      return runCourse(shop, { baths, factors }, { load, days, solvent: status.replayed.solvent! });
    });
    const sorted = (of: (course: Course) => number) => drawn.map(of).sort((one, other) => one - other);
    const litres = sorted(({ pouredMl }) => pouredMl);
    const waste = sorted(({ wasteG }) => wasteG);
    const changes = sorted((course) => course.changes.length);
    for (const [end, share] of [
      ['p05', 0.05],
      ['p95', 0.95],
    ] as const) {
      // 500 draws know their ends to about 5 %; the rest is whole changes against shares of them.
      expect(until.solventMl[end]! / sampleQuantile(litres, share)).toBeGreaterThan(0.85);
      expect(until.solventMl[end]! / sampleQuantile(litres, share)).toBeLessThan(1.15);
      expect(until.wasteG[end]! / sampleQuantile(waste, share)).toBeGreaterThan(0.8);
      expect(until.wasteG[end]! / sampleQuantile(waste, share)).toBeLessThan(1.2);
      expect(Math.abs(until.changes[end]! - sampleQuantile(changes, share))).toBeLessThanOrEqual(1);
    }
  });

  it('of loads that were given have no width, of resin that was not weighed a factor of about e^(0.45 · 1.645) each way', () => {
    const sealed = headerOf({ dirty: {}, clean: {} }, more);
    // All of it dissolves, and drag-out is known: only what a load carries in is in doubt.
    const known = { drag_ml: [10, 10], minutes: [90, 90], agitation: 'ultrasonic', parts: { model: 8 } };
    const drafts = [2, 30, 54].map((hour) => ({ what: 'wash', ...known, hour }) as Draft);
    const { until } = at(sealed, [...FILLED, ...drafts], 52, 6);
    expect(until.loads.p05).toBe(until.loads.p95);
    const { p05, p50, p95 } = until.changes;
    expect(p50).toBeGreaterThan(20);
    const factor = Math.exp(0.45 * 1.645);
    // Between two changes go as many loads as it takes to bring so much resin; 260 working days of 6 tell it within a tenth.
    expect(p95! / p50 / factor).toBeGreaterThan(0.9);
    expect(p95! / p50 / factor).toBeLessThan(1.15);
    expect((p05! / p50) * factor).toBeGreaterThan(0.85);
    expect((p05! / p50) * factor).toBeLessThan(1.15);
  });
});
