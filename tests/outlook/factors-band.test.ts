import { describe, expect, it } from 'vitest';
import type { Header } from '../../src/ledger/header.ts';
import { factorBand, factorName } from '../../src/outlook/factors-band.ts';
import type { Quantity } from '../../src/outlook/quantity.ts';
import { type Status, statusOf } from '../../src/outlook/status.ts';
import { type Draft, FILLED, headerOf, OPEN, PAIR } from '../bath/bench.ts';
import { believing } from '../belief/bench.ts';

/** 95 % of a standard normal lies below: NIST/SEMATECH e-Handbook 1.3.6.7.1. */
const Z95 = 1.644854;

function status(drafts: readonly Draft[], header: Header = PAIR): Status {
  const { shop, entries, clockMs } = believing(header, drafts);
  return statusOf(shop, entries, clockMs);
}

/** Against a log-normal about its own p50. */
function expectLogNormal({ p05, p50, p95 }: Quantity, sd: number): void {
  expect(p05! / (p50 * Math.exp(-Z95 * sd))).toBeCloseTo(1, 4);
  expect(p95! / (p50 * Math.exp(Z95 * sd))).toBeCloseTo(1, 4);
}

/** Everything dissolves in the first bath, and nothing is dragged out. */
const SOAKED: Draft = {
  what: 'wash',
  parts: { model: 6 },
  agitation: 'ultrasonic',
  minutes: [1440, 1440],
  drag_ml: [0, 0],
};

describe('one wash into fresh sealed baths', () => {
  it('leaves resin known as κ_c ε: log-normal, sd √(0.45² + 0.25²) = 0.515', () => {
    const { estimates } = status([...FILLED, SOAKED]);
    expectLogNormal(estimates[0]!.resinG, Math.hypot(0.45, 0.25));
    // Of so little resin, wt% and g/L go as the mass.
    expect(estimates[0]!.resinWtPct!.p95! / estimates[0]!.resinWtPct!.p05!).toBeCloseTo(
      Math.exp(2 * Z95 * Math.hypot(0.45, 0.25)),
      1,
    );
    expect(estimates[1]!.resinG).toEqual({ p05: 0, p50: 0, p95: 0 });
  });

  it('of which the carry-over was given leaves nothing in doubt, in the bath nor of the wash', () => {
    const { estimates, lastWash } = status([...FILLED, { ...SOAKED, carry_g: 5 } as Draft]);
    const { p05, p50, p95 } = estimates[0]!.resinG;
    expect(p50).toBe(5);
    expect([p05! / 5, p95! / 5]).toEqual([expect.closeTo(1, 9), expect.closeTo(1, 9)]);
    expect(lastWash!.carryG).toEqual({ p50: 5 });
    expect(lastWash!.dragMl).toEqual([{ p50: 0 }, { p50: 0 }]);
  });

  it('with a carry-over factor that is switched off leaves its scatter only', () => {
    // Trapped resin has no κ_c, but it scatters with the wash.
    const header = headerOf({ dirty: {}, clean: {} }, { factors: { carry: 0 } });
    const { estimates, factors, belief } = status([...FILLED, { ...SOAKED, trapped_g: 4 } as Draft], header);
    expectLogNormal(estimates[0]!.resinG, 0.25);
    expect(factorBand(factors, belief, { name: 'carry' })).toEqual({ p50: 0 });
  });
});

describe('the factors', () => {
  const header = headerOf(
    { dirty: OPEN, clean: { ...OPEN, evaporation: 2, moisture: 0 } },
    { factors: { carry: 1.4, drag: 0.8 } },
  );
  const { factors, belief, shop } = status(FILLED, header);

  it.each([
    ['carry', undefined, 1.4, 0.45],
    ['drag', undefined, 0.8, 0.5],
    ['dissolution', undefined, 1, 0.35],
    ['evaporation', 0, 1, 0.7],
    ['moisture', 0, 1, 0.7],
    ['evaporation', 1, 2, 0.7],
  ] as const)(
    '%s of tub %s: median %s, its 5 and 95 %% points exp(±1.645 · %s) of it',
    (name, tub, median, sd) => {
      const band = factorBand(factors, belief, tub === undefined ? { name } : { name, tub });
      expect(band.p50).toBe(median);
      expectLogNormal(band, sd);
    },
  );

  it('that is switched off has no band', () => {
    expect(factorBand(factors, belief, { name: 'moisture', tub: 1 })).toEqual({ p50: 0 });
  });

  it('are named as people call them', () => {
    expect(factorName({ name: 'carry' }, shop)).toBe('carry-over');
    expect(factorName({ name: 'drag' }, shop)).toBe('drag-out');
    expect(factorName({ name: 'dissolution' }, shop)).toBe('dissolution time');
    expect(factorName({ name: 'evaporation', tub: 1 }, shop)).toBe('evaporation, clean');
    expect(factorName({ name: 'moisture', tub: 0 }, shop)).toBe('moisture, dirty');
  });
});

describe('the last wash', () => {
  const usual: Draft = { what: 'wash', parts: { model: 6 } };

  it('is none before the first', () => {
    expect(status(FILLED).lastWash).toBeNull();
  });

  it.each([1, 7, 30])('of %d alike: carry-over log-normal with its factor and its own scatter', (count) => {
    const { lastWash } = status([...FILLED, ...Array.from({ length: count }, () => usual)]);
    // 1.2 A f of six 32 mL models, 85.68 cm² each, 7.84 mg/cm² at 22 °C after ten minutes; worked from the README of bath.
    const film = (22 * Math.sqrt(Math.exp(0.24))) / Math.sqrt(10);
    expect(lastWash!.carryG.p50).toBeCloseTo((1.2 * 6 * 8.5 * 32 ** (2 / 3) * film) / 1000, 6);
    expectLogNormal(lastWash!.carryG, Math.hypot(0.45, 0.25));
  });

  it('drag-out of clean baths log-normal with its factor', () => {
    const { lastWash } = status([...FILLED, { ...SOAKED, drag_ml: undefined } as unknown as Draft]);
    // (6 · 85.7 · 60/10 000 + 5) mL; the second bath is clean, so κ_d alone decides.
    expect(lastWash!.dragMl[1]!.p50).toBeCloseTo((6 * 8.5 * 32 ** (2 / 3) * 60) / 10_000 + 5, 1);
    expectLogNormal(lastWash!.dragMl[1]!, 0.5);
  });

  it('tells no residue where the surface is not known', () => {
    const { lastWash } = status([
      ...FILLED,
      { what: 'wash', carry_g: 3, volume_ml: 0, minutes: [5, 5] } as Draft,
    ]);
    expect(lastWash!.areaCm2).toBe(0);
    expect(Number.isFinite(lastWash!.residueUgPerCm2.p50)).toBe(false);
  });

  it('moves with what is learned after it', () => {
    const drafts: Draft[] = [...FILLED, ...Array.from({ length: 10 }, () => usual)];
    const before = status(drafts);
    const { p50 } = before.estimates[0]!.resinWtPct!;
    const more = [...drafts, { what: 'reading', bath: 'dirty', resin_wt_pct: 1.6 * p50, sd: 0.02 } as Draft];
    const after = status(more);
    // Ten washes of one factor, read closely: κ_c and the last carry-over go the same way, the last by less than what was read.
    const ratio = after.lastWash!.carryG.p50 / before.lastWash!.carryG.p50;
    expect(ratio).toBeGreaterThan(1.3);
    expect(ratio).toBeLessThan(1.7);
    const width = ({ p05, p95 }: Quantity) => Math.log(p95! / p05!);
    expect(width(after.lastWash!.carryG)).toBeLessThan(width(before.lastWash!.carryG));
    // Its own scatter stays: it cannot be narrower than that alone.
    expect(width(after.lastWash!.carryG)).toBeGreaterThan(2 * Z95 * 0.25 * 0.95);
  });
});
