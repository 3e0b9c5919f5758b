/** Waste containers: hand-worked cases, published sums, and the balance with the replay's tally. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mixtureDensity } from '../../src/substance/mixture.ts';
import { anyHeader } from '../bath/arbitrary.ts';
import { type Draft, FILLED, headerOf } from '../bath/bench.ts';
import { anyHistory } from './arbitrary.ts';
import { at, latest, recordsOf } from './bench.ts';

const DAY = 24;
const drain = (ml: number, more: { into?: string; hour?: number } = {}): Draft => ({
  what: 'drain',
  bath: 'dirty',
  ml,
  ...more,
});
const collected = (more: { ml?: number; hour?: number } = {}): Draft => ({
  what: 'waste',
  container: 'can-1',
  action: 'collected',
  ...more,
});
const OPENED: Draft = { what: 'waste', container: 'can-1', action: 'opened', capacity_l: 10, hour: DAY };

const wasteOf = (drafts: Draft[], clockHour?: number) =>
  recordsOf(drafts, clockHour === undefined ? {} : { clockHour }).waste;

describe('a container', () => {
  it('holds what was drained into it, as volume, masses and share', () => {
    const waste = wasteOf(
      [
        ...FILLED,
        OPENED,
        drain(1500, { into: 'can-1', hour: 2 * DAY }),
        drain(1000, { into: 'can-1', hour: 3 * DAY }),
      ],
      4.5 * DAY,
    );
    const can = latest(waste, 'can-1');
    expect(waste.containers.length).toBe(1);
    expect(can.heldMl).toBeCloseTo(2500, 6);
    const grams = 2500 * mixtureDensity(0.995, 20);
    expect(can.grams.ipa).toBeCloseTo(0.995 * grams, 6);
    expect(can.grams.water).toBeCloseTo(0.005 * grams, 6);
    expect(can).toMatchObject({ openedMs: at(DAY), capacityMl: 10_000, closed: null, lastMs: at(3 * DAY) });
    expect(can.fullShare).toBeCloseTo(0.25, 9);
    expect(can.ageDays).toBeCloseTo(3.5, 9);
  });

  it('starts at its first use when nobody logged its opening, and stays as old when it is logged late', () => {
    const used = [...FILLED, drain(500, { into: 'can-1', hour: 5 })];
    const can = latest(wasteOf(used), 'can-1');
    expect(can).toMatchObject({ openedMs: at(5), capacityMl: null, fullShare: null });
    const late = latest(wasteOf([...used, OPENED]), 'can-1');
    expect(late).toMatchObject({ openedMs: at(5), capacityMl: 10_000 });
    expect(late.heldMl).toBeCloseTo(500, 6);
  });

  it('is empty and closed once it was collected, and used again is a filling of its own', () => {
    const waste = wasteOf(
      [
        ...FILLED,
        OPENED,
        drain(1500, { into: 'can-1', hour: 2 * DAY }),
        collected({ hour: 3 * DAY }),
        drain(800, { into: 'can-1', hour: 9 * DAY }),
      ],
      10 * DAY,
    );
    const [first, second] = waste.containers;
    expect(first).toMatchObject({ heldMl: 0, closed: 'collected', closedMs: at(3 * DAY), fullShare: 0 });
    expect(first!.grams).toEqual({ resin: 0, ipa: 0, water: 0 });
    expect(first!.takenMl).toBeCloseTo(1500, 6);
    expect(first!.ageDays).toBeCloseTo(2, 9);
    expect(second).toMatchObject({ openedMs: at(9 * DAY), closed: null, capacityMl: 10_000 });
    expect(second!.heldMl).toBeCloseTo(800, 6);
    expect(second!.ageDays).toBeCloseTo(1, 9);
  });

  it('loses a part of everything in it when a part is taken', () => {
    const loaded: Draft[] = [
      { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000 },
      {
        what: 'wash',
        baths: ['dirty'],
        minutes: [1440],
        agitation: 'ultrasonic',
        area_cm2: 100,
        carry_g: 111,
        drag_ml: [0],
      },
      { what: 'drain', bath: 'dirty', all: true, into: 'can-1', hour: 1 },
    ];
    const full = latest(wasteOf(loaded), 'can-1');
    // 4 L of solvent and 111 g of resin at 1.11 g/mL.
    expect(full.heldMl).toBeCloseTo(4100, 3);
    expect(full.grams.resin).toBeCloseTo(111, 6);
    const part = latest(wasteOf([...loaded, collected({ ml: 1025, hour: 2 })]), 'can-1');
    expect(part.closed).toBeNull();
    expect(part.heldMl).toBeCloseTo(3075, 3);
    expect(part.grams.resin).toBeCloseTo(0.75 * 111, 3);
    expect(part.takenGrams.resin).toBeCloseTo(0.25 * 111, 3);
  });

  it('gives no more than it holds; the rest is flagged', () => {
    const filled = [...FILLED, drain(2000, { into: 'can-1', hour: 1 })];
    const can = latest(wasteOf([...filled, collected({ ml: 2600, hour: 2 })]), 'can-1');
    expect(can).toMatchObject({ heldMl: 0, closed: 'collected' });
    expect(can.beyondMl).toBeCloseTo(600, 6);
    const rounded = latest(wasteOf([...filled, collected({ ml: 2001, hour: 2 })]), 'can-1');
    expect(rounded).toMatchObject({ heldMl: 0, closed: 'collected', beyondMl: 0 });
  });

  it('that was never used and is collected is on record', () => {
    expect(latest(wasteOf([collected({ ml: 900 })]), 'can-1')).toMatchObject({
      heldMl: 0,
      closed: 'collected',
      beyondMl: 900,
      ageDays: 0,
    });
  });

  it('gives back solvent when it is reclaimed and keeps the resin, as a still does', () => {
    const can = latest(
      wasteOf([
        { what: 'fill', bath: 'dirty', solvent: 'ipa99', ml: 4000 },
        {
          what: 'wash',
          baths: ['dirty'],
          minutes: [1440],
          agitation: 'ultrasonic',
          area_cm2: 100,
          carry_g: 111,
          drag_ml: [0],
        },
        { what: 'drain', bath: 'dirty', all: true, into: 'can-1', hour: 1 },
        { what: 'reclaim', container: 'can-1', ml: 3600, method: 'distilled', solvent: 'ipa99', hour: 9 },
      ]),
      'can-1',
    );
    // 400 mL of solvent and 100 mL of resin are left, a tenth of the IPA and all 111 g.
    expect(can.heldMl).toBeCloseTo(500, 3);
    expect(can.grams.resin).toBeCloseTo(111, 6);
    expect(can.grams.ipa).toBeCloseTo(0.1 * 4000 * 0.995 * mixtureDensity(0.995, 20), 3);
    expect(can).toMatchObject({ closed: null, beyondMl: 0 });
    expect(can.reclaimedMl).toBeCloseTo(3600, 3);
  });

  it('flags more reclaimed solvent than was ever in it', () => {
    const drafts: Draft[] = [
      ...FILLED,
      drain(2000, { into: 'can-1', hour: 1 }),
      { what: 'reclaim', container: 'can-1', ml: 2500, method: 'settled', solvent: 'ipa99', hour: 9 },
    ];
    const can = latest(wasteOf(drafts), 'can-1');
    expect(can.beyondMl).toBeCloseTo(500, 3);
    expect(can.heldMl).toBeCloseTo(0, 6);
    expect(can.grams.ipa).toBeCloseTo(0, 9);
  });
});

describe('waste that names no container', () => {
  it('is kept under no name, without an age', () => {
    const can = latest(wasteOf([...FILLED, drain(700, { hour: 2 }), drain(300, { hour: 3 })]), null);
    expect(can.heldMl).toBeCloseTo(1000, 6);
    expect(can).toMatchObject({ container: null, ageDays: null, fullShare: null, closed: null });
  });

  it('is absent when there is none', () => {
    const { containers } = wasteOf([...FILLED, drain(700, { into: 'can-1' })]);
    expect(containers.map(({ container }) => container)).toEqual(['can-1']);
  });
});

describe('waste by month', () => {
  it('is put where the shop says its month starts', () => {
    // The bench starts on 2 March; 696 h later it is 31 March, 08:00 UTC.
    const drafts = [
      ...FILLED,
      drain(1000, { hour: 696 }),
      drain(500, { into: 'can-1', hour: 711.5 }),
      drain(250, { into: 'can-1', hour: 712.5 }),
    ];
    const { months } = wasteOf(drafts);
    expect(months.map(({ monthStartMs }) => monthStartMs)).toEqual([Date.UTC(2026, 2), Date.UTC(2026, 3)]);
    const density = mixtureDensity(0.995, 20) / 1000;
    expect(months[0]!.litres).toBeCloseTo(1.5, 9);
    expect(months[0]!.kg).toBeCloseTo(1500 * density, 9);
    expect(months[1]!.litres).toBeCloseTo(0.25, 9);
  });

  it('counts tray resin as kilograms, and apart', () => {
    const { waste, movements } = recordsOf([
      ...FILLED,
      { what: 'wash', parts: { model: 8 }, prerinse: 'spray' },
    ]);
    const trayKg = movements.washes[0]!.trayG / 1000;
    expect(trayKg).toBeGreaterThan(0.002);
    expect(waste.months).toEqual([{ monthStartMs: Date.UTC(2026, 2), kg: trayKg, trayKg, litres: 0 }]);
    expect(waste.trayG).toBe(movements.washes[0]!.trayG);
  });

  it('is about 14 kg for two 2 L baths emptied weekly, and 100 kg is 127 L of dry IPA', () => {
    // Both by arithmetic, from the density of IPA: 2 × 2 L × 0.785 = 3.1 kg, × 365.25/12/7.
    const weekly: Draft[] = Array.from({ length: 52 }, (_, week) =>
      ['dirty', 'clean'].map(
        (bath): Draft => ({ what: 'refill', bath, solvent: 'ipa99', ml: 2000, hour: week * 7 * DAY }),
      ),
    ).flat();
    const header = headerOf({ dirty: { mark_ml: 2000 }, clean: { mark_ml: 2000 } });
    const { months } = recordsOf(weekly, { header }).waste;
    const kg = months.reduce((sum, month) => sum + month.kg, 0);
    const litres = months.reduce((sum, month) => sum + month.litres, 0);
    // The first refill drains nothing.
    expect((kg / 51) * (365.25 / 12 / 7)).toBeCloseTo(13.7, 1);
    expect(Math.round((100 * litres) / kg)).toBe(127);
  });

  it('is not lowered by reclaiming', () => {
    const drained = [...FILLED, drain(2000, { into: 'can-1', hour: 1 })];
    const reclaim: Draft = {
      what: 'reclaim',
      container: 'can-1',
      ml: 1500,
      method: 'settled',
      solvent: 'ipa91',
      hour: 9,
    };
    expect(wasteOf([...drained, reclaim]).months).toEqual(wasteOf(drained).months);
  });
});

describe('in every history', () => {
  it('what the containers hold and what was taken from them is the waste of the replay', () => {
    let partly = 0;
    fc.assert(
      fc.property(anyHeader, anyHistory, (header, drafts) => {
        const { waste, replayed, movements } = recordsOf(drafts, { header });
        for (const what of ['resin', 'ipa', 'water'] as const) {
          const sum = waste.containers.reduce((all, can) => all + can.grams[what] + can.takenGrams[what], 0);
          const tally = replayed.tally.waste[what];
          expect(Math.abs(sum - tally)).toBeLessThanOrEqual(1e-9 * Math.max(tally, 1e-3));
        }
        const ml = waste.containers.reduce((all, can) => all + can.heldMl + can.takenMl, 0);
        const drainedMl = movements.wastes.reduce((all, one) => all + one.ml, 0);
        expect(Math.abs(ml - drainedMl)).toBeLessThanOrEqual(1e-9 * Math.max(drainedMl, 1));
        const { tally } = replayed;
        const kg = (tally.waste.resin + tally.waste.ipa + tally.waste.water + tally.tray.resin) / 1000;
        const months = waste.months.reduce((all, month) => all + month.kg, 0);
        expect(Math.abs(months - kg)).toBeLessThanOrEqual(1e-9 * Math.max(kg, 1e-6));
        partly += waste.containers.some(({ heldMl, takenMl }) => heldMl > 0 && takenMl > 0) ? 1 : 0;
      }),
      { numRuns: 300 },
    );
    expect(partly).toBeGreaterThan(20);
  });

  it('no container holds less than nothing, and one that is closed holds nothing', () => {
    let closed = 0;
    fc.assert(
      fc.property(anyHeader, anyHistory, (header, drafts) => {
        for (const can of recordsOf(drafts, { header }).waste.containers) {
          const { resin, ipa, water } = can.grams;
          expect(Math.min(can.heldMl, resin, ipa, water)).toBeGreaterThanOrEqual(0);
          if (can.closed === null) continue;
          closed += 1;
          expect(can.heldMl + resin + ipa + water).toBe(0);
        }
      }),
      { numRuns: 300 },
    );
    expect(closed).toBeGreaterThan(50);
  });
});
