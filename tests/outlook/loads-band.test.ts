import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { priorMedians, replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { SCATTER_MEAN } from '../../src/belief/factors.ts';
import type { Header } from '../../src/ledger/header.ts';
import { loadsLeft } from '../../src/outlook/loads-left.ts';
import { type Status, statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, FILLED, headerOf, PAIR, START_MS } from '../bath/bench.ts';
import { believing, normalFrom, sampleQuantile } from '../belief/bench.ts';

const Z95 = 1.644854;

function status(header: Header, drafts: readonly Draft[]): Status {
  const { shop, entries, clockMs } = believing(header, drafts);
  return statusOf(shop, entries, clockMs);
}

/** Loads left by the plain replay and the plain count, with given carry-over and drag-out factors. */
function counted(header: Header, drafts: readonly Draft[], carry: number, drag?: number): number {
  const shop = openShop(header);
  const factors = { ...priorMedians(shop), carry };
  if (drag !== undefined) factors.drag = drag;
  return loadsLeft(shop, replay(shop, entriesOf(drafts), START_MS, { factors }), factors)!.loads;
}

const washes = (count: number, more: object = {}): Draft[] =>
  Array.from({ length: count }, () => ({ what: 'wash', parts: { model: 6 }, ...more }) as Draft);

/** Only the carry-over is not known: drag-out given, all of it dissolved. */
const KNOWN = { drag_ml: [8, 8], agitation: 'ultrasonic', minutes: [60, 60] };

describe('the band of the loads left', () => {
  it.each([1, 5, 20])('with carry-over alone in doubt, after %d: as counted at exp(∓1.645 sd)', (count) => {
    const header = headerOf({ dirty: {}, clean: {} });
    const drafts = [...FILLED, ...washes(count, KNOWN)];
    const { left } = status(header, drafts);
    // More resin, fewer loads. The loads to come scatter by 0.25/√n each way about their median, n the loads left.
    const sd = Math.hypot(0.45, 0.25 / Math.sqrt(left!.loads));
    const [few, many] = [
      counted(header, drafts, Math.exp(Z95 * sd)),
      counted(header, drafts, Math.exp(-Z95 * sd)),
    ];
    expect(left!.loads).toBe(counted(header, drafts, 1));
    expect(Math.abs(left!.p05! - few)).toBeLessThanOrEqual(Math.max(1, 0.05 * few));
    expect(Math.abs(left!.p95! - many)).toBeLessThanOrEqual(Math.max(1, 0.05 * many));
  });

  it('with carry-over and drag-out in doubt, against 1500 plain counts with both drawn', () => {
    const drafts = [...FILLED, ...washes(10)];
    const { left } = status(PAIR, drafts);
    const normal = normalFrom(17);
    const sample = Array.from({ length: 1500 }, () =>
      counted(PAIR, drafts, SCATTER_MEAN * Math.exp(0.45 * normal()), Math.exp(0.5 * normal())),
    ).sort((one, other) => one - other);
    // The sample knows its ends to 5 %, and dissolution time, left at 1 here, decides little.
    expect(Math.abs(left!.p05! / sampleQuantile(sample, 0.05) - 1)).toBeLessThan(0.15);
    expect(Math.abs(left!.p95! / sampleQuantile(sample, 0.95) - 1)).toBeLessThan(0.15);
  });

  it('holds the count, in whole loads of at least 0', () => {
    const drafts = fc.record({
      count: fc.integer({ min: 1, max: 60 }),
      model: fc.integer({ min: 1, max: 30 }),
      drained_min: fc.constantFrom(0, 10, 600),
      mark: fc.constantFrom(400, 1500, 4000),
    });
    fc.assert(
      fc.property(drafts, ({ count, model, drained_min, mark }) => {
        const header = headerOf({ dirty: { mark_ml: mark }, clean: { mark_ml: mark } });
        const fills = FILLED.map((fill) => ({ ...fill, ml: mark }) as Draft);
        const { left } = status(header, [...fills, ...washes(count, { parts: { model }, drained_min })]);
        if (left?.p05 === undefined) return;
        for (const one of [left.p05, left.loads, left.p95!]) {
          expect(Number.isInteger(one)).toBe(true);
          expect(one).toBeGreaterThanOrEqual(0);
        }
        expect(left.p05).toBeLessThanOrEqual(left.loads);
        expect(left.loads).toBeLessThanOrEqual(left.p95!);
      }),
      { numRuns: 60 },
    );
  });

  it('is hardly any where carry-over and drag-out were measured throughout', () => {
    const { left } = status(PAIR, [...FILLED, ...washes(8, { ...KNOWN, carry_g: 7 })]);
    // What is left is the scatter of the loads to come, 0.25/√n, which a measured history does not take away.
    const sd = 0.25 / Math.sqrt(left!.loads);
    expect(left!.p95! / left!.p05!).toBeLessThan(Math.exp(2 * Z95 * sd) * 1.03);
  });

  it('is none where nothing was washed, or the count was capped', () => {
    expect(status(PAIR, FILLED).left).toBeNull();
    const { left } = status(PAIR, [...FILLED, ...washes(3, { carry_g: 0, drag_ml: [0, 0] })]);
    expect(left).toMatchObject({ loads: 10_000, bath: null });
    expect(left!.p05).toBeUndefined();
  });

  it('narrows, and moves the way the reading points', () => {
    const drafts = [...FILLED, ...washes(20)];
    const before = status(PAIR, drafts);
    const high = 1.4 * before.estimates[0]!.resinWtPct!.p50;
    const after = status(PAIR, [...drafts, { what: 'reading', bath: 'dirty', resin_wt_pct: high, sd: 0.05 }]);
    expect(after.left!.loads).toBeLessThan(before.left!.loads);
    const width = ({ left }: Status) => Math.log(left!.p95! / Math.max(1, left!.p05!));
    expect(width(after)).toBeLessThan(0.8 * width(before));
  });
});
