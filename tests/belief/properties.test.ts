/** What holds for every history with every reading, the absurd ones included. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { imbalance } from '../../src/bath/tally.ts';
import type { Header } from '../../src/ledger/header.ts';
import { factorBand } from '../../src/outlook/factors-band.ts';
import type { Quantity } from '../../src/outlook/quantity.ts';
import { type Status, statusOf } from '../../src/outlook/status.ts';
import { anyDrafts, anyHeader } from '../bath/arbitrary.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, START_MS } from '../bath/bench.ts';

const within = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const tempC = within(10, 40);

/** What the schema lets through: likely values, and the ends of the ranges. */
const anyReading = fc
  .tuple(
    fc.constantFrom('dirty', 'clean'),
    fc.oneof(
      fc.record({ density_g_ml: fc.oneof(within(0.77, 0.85), within(0.7, 1.3)), temp_c: tempC }),
      fc.record({
        sg: within(0.77, 0.9),
        sg_ref: fc.constantFrom('20/20', '60/60F'),
        temp_c: tempC,
        t_ref_c: fc.constant(20),
      }),
      fc.record({ brix: fc.oneof(within(26, 32), within(0, 40)), temp_c: tempC }),
      fc.record({ refractive_index: within(1.33, 1.5), temp_c: tempC }),
      fc.record({ residue: fc.record({ sample_ml: within(1, 50), dry_g: within(0, 5) }) }),
      fc.record({ resin_wt_pct: fc.oneof(within(0, 12), within(0, 60)) }),
      fc.record({ level_ml: fc.oneof(within(500, 5000), within(1, 50_000)) }),
      fc.record({ weight_g: within(1, 50_000) }),
    ),
    fc.option(within(0.0001, 5), { nil: undefined, freq: 4 }),
  )
  .map(([bath, keys, sd]) => ({ what: 'reading', bath, ...keys, ...(sd === undefined ? {} : { sd }) }));

const anyWeighing = fc.record({
  what: fc.constant('weighed'),
  wet_g: within(1, 500),
  clean_g: within(0, 500),
});

/** Readings among the events of any history, at any time; weighings of any of its washes. */
const readDrafts: fc.Arbitrary<Draft[]> = fc
  .tuple(
    anyDrafts,
    fc.array(
      fc.tuple(
        fc.oneof({ weight: 4, arbitrary: anyReading }, { weight: 1, arbitrary: anyWeighing }),
        fc.nat(99),
      ),
      {
        minLength: 1,
        maxLength: 10,
      },
    ),
  )
  .map(([drafts, readings]) => {
    const mixed = drafts.map((draft) => ({ ...draft }));
    for (const [reading, at] of readings) {
      const place = at % (mixed.length + 1);
      mixed.splice(place, 0, { ...reading, hour: mixed[place - 1]?.hour ?? 0 } as Draft);
    }
    const washes = mixed.flatMap(({ what }, place) => (what === 'wash' ? [`e${place}`] : []));
    return mixed.flatMap((draft, place): Draft[] => {
      if (draft.what !== 'weighed') return [draft];
      // A load is weighed wet first; without a wash in the ledger there is nothing to weigh, and another kind of record stands there.
      const wash = washes[place % Math.max(1, washes.length)];
      const grams = [draft.wet_g, draft.clean_g].sort((one, other) => other - one) as [number, number];
      if (wash === undefined) return [{ what: 'inspect', result: 'ok', hour: draft.hour! }];
      return [{ ...draft, wash, wet_g: grams[0] + 0.01, clean_g: grams[1] }];
    });
  });

function status(header: Header, drafts: readonly Draft[], after: number): Status {
  const last = Math.max(0, ...drafts.map(({ hour = 0 }) => hour));
  return statusOf(openShop(header), entriesOf(drafts), START_MS + (last + after) * 3_600_000);
}

const quantities = ({ estimates, lastWash }: Status): Quantity[] => {
  const all = estimates.flatMap((bath) =>
    Object.values(bath).filter(
      (value): value is Quantity => value !== null && typeof value === 'object' && 'p50' in value,
    ),
  );
  return lastWash ? [...all, lastWash.carryG, ...lastWash.dragMl] : all;
};

describe('every history with every reading', () => {
  it('holds masses that are finite and not negative, in the best estimate and in every world', () => {
    fc.assert(
      fc.property(anyHeader, readDrafts, fc.nat(900), (header, drafts, after) => {
        const { replayed, belief, factors } = status(header, drafts, after);
        for (const { baths } of [replayed, ...belief.ensemble.worlds])
          for (const { resin, ipaG, waterG } of baths)
            for (const grams of [...resin, ipaG, waterG]) {
              expect(Number.isFinite(grams)).toBe(true);
              expect(grams).toBeGreaterThanOrEqual(0);
            }
        for (const factor of [factors.carry, factors.drag, factors.dissolution]) {
          expect(Number.isFinite(factor)).toBe(true);
          expect(factor).toBeGreaterThan(0);
        }
        for (const [place, row] of belief.ensemble.scatter.entries())
          expect(row[place]!).toBeGreaterThan(-1e-9);
      }),
      { numRuns: 100 },
    );
  });

  it('tells bands in order, each of them finite', () => {
    fc.assert(
      fc.property(anyHeader, readDrafts, fc.nat(900), (header, drafts, after) => {
        const told = status(header, drafts, after);
        for (const { p05, p50, p95 } of quantities(told)) {
          for (const one of [p05 ?? p50, p50, p95 ?? p50]) expect(Number.isFinite(one)).toBe(true);
          expect(p05 ?? p50).toBeLessThanOrEqual(p50);
          expect(p50).toBeLessThanOrEqual(p95 ?? p50);
        }
        for (const { misfit, sd, expected } of told.belief.compared) {
          expect(misfit).toBeGreaterThanOrEqual(0);
          expect(sd).toBeGreaterThan(0);
          for (const one of Object.values(expected)) expect(Number.isFinite(one)).toBe(true);
        }
        const { left } = told;
        if (left?.p05 !== undefined) {
          expect(left.p05).toBeLessThanOrEqual(left.loads);
          expect(left.loads).toBeLessThanOrEqual(left.p95!);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('closes its tallies', () => {
    fc.assert(
      fc.property(anyHeader, readDrafts, fc.nat(900), (header, drafts, after) => {
        const { replayed } = status(header, drafts, after);
        expect(imbalance(replayed.baths, replayed.tally)).toBeLessThanOrEqual(1e-9);
      }),
      { numRuns: 100 },
    );
  });

  it('says the same to the last bit each time', () => {
    fc.assert(
      fc.property(anyHeader, readDrafts, (header, drafts) => {
        const bytes = () => {
          const { estimates, factors, left, lastWash, replayed, belief } = status(header, drafts, 50);
          const { worlds, scatter } = belief.ensemble;
          return JSON.stringify({
            estimates,
            factors,
            left,
            lastWash,
            tally: replayed.tally,
            worlds,
            scatter,
          });
        };
        expect(bytes()).toBe(bytes());
      }),
      { numRuns: 30 },
    );
  });
});

describe('readings that agree with what was expected', () => {
  const header = headerOf({ dirty: OPEN, clean: OPEN });
  const washes: Draft[] = Array.from(
    { length: 30 },
    (_, nth): Draft => ({ what: 'wash', parts: { model: 6 }, hour: 6 * nth }),
  );

  it('never widen the band of a factor, one after the other', () => {
    const kinds = fc.constantFrom('density_g_ml', 'refractive_index', 'resin_wt_pct', 'level_ml', 'weight_g');
    fc.assert(
      fc.property(
        kinds,
        fc.constantFrom('dirty', 'clean'),
        fc.integer({ min: 2, max: 5 }),
        (kind, bath, count) => {
          let drafts: Draft[] = [...FILLED, ...washes];
          let before: number[] | undefined;
          for (let nth = 0; nth <= count; nth += 1) {
            const told = status(header, drafts, 10);
            const widths = told.belief.ensemble.axes.map((axis) => {
              const { p05, p95 } = factorBand(told.factors, told.belief, axis);
              return p95! / p05!;
            });
            if (before) {
              // Rounding, and what curves through three points cost.
              widths.forEach((width, axis) => {
                expect(width).toBeLessThan(before![axis]! * 1.01);
              });
              expect(Math.min(...widths.map((width, axis) => width / before![axis]!))).toBeLessThan(1);
            }
            before = widths;
            const at = told.estimates[bath === 'dirty' ? 0 : 1]!;
            const figures = {
              density_g_ml: at.densityRoom!.p50,
              refractive_index: at.indexRoom!.p50,
              resin_wt_pct: at.resinWtPct!.p50,
              level_ml: at.volumeMl.p50,
              weight_g: at.massG.p50,
            };
            const value = { [kind]: figures[kind as keyof typeof figures] };
            drafts = [...drafts, { what: 'reading', bath, ...value, hour: 184 + 10 * nth } as Draft];
          }
        },
      ),
      { numRuns: 20 },
    );
  });
});
