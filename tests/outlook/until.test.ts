import { describe, expect, it } from 'vitest';
import { bathVolume, resinFraction } from '../../src/bath/state.ts';
import { held } from '../../src/bath/tally.ts';
import { type Draft, FILLED, headerOf, OPEN } from '../bath/bench.ts';
import { at, DAY, GIVEN, given, givenWith, MONDAY, more, RESIN } from './until-bench.ts';

/** Density of 99.5 wt% IPA at 20 °C, g/mL: MODEL 1.1, written out. */
function solventDensity(): number {
  const w = 0.995;
  const z = 2 * w - 1;
  const water = 0.99997495 * (1 - ((20 - 3.983035) ** 2 * (20 + 301.797)) / (522528.9 * (20 + 69.34881)));
  const excess = -0.135308 + 0.0223535 * z - 0.016736 * z ** 2 - 0.0372521 * z ** 3 - 0.00504722 / 2;
  return 1 / (w / 0.785157 + (1 - w) / water + w * (1 - w) * excess);
}

/** Resin and solvent of one bath, g; MODEL 3 and 5 with nothing lost to the air. */
class Tub {
  resin = 0;
  solvent = 0;
  static readonly density = solventDensity();
  get ml(): number {
    return this.resin / RESIN.density_g_ml + this.solvent / Tub.density;
  }
  get wtPct(): number {
    return (100 * this.resin) / (this.resin + this.solvent);
  }
  pour(ml: number): void {
    this.solvent += ml * Tub.density;
  }
  leave(ml: number): { resin: number; solvent: number } {
    const share = ml / this.ml;
    const film = { resin: this.resin * share, solvent: this.solvent * share };
    this.resin -= film.resin;
    this.solvent -= film.solvent;
    return film;
  }
}

/** A year of a pair by hand: MODEL 3 load by load, MODEL 5 at 10 and 2 wt%, the mark in the morning below nine tenths of it. */
function byHand(weeks: number, drag: readonly [number, number]) {
  const [dirty, clean] = [new Tub(), new Tub()];
  for (const tub of [dirty, clean]) tub.pour(4000);
  const dissolves = 1 - Math.exp(-GIVEN.minutes / 6);
  const counted = { days: [] as number[], fill: 0, makeUp: 0, topUp: 0, waste: 0, wasteG: 0, loads: 0 };
  const wash = () => {
    const [into, on] = [GIVEN.carry * dissolves, GIVEN.carry * (1 - dissolves)];
    dirty.resin += into;
    const film = dirty.leave(drag[0]);
    clean.resin += film.resin + on * dissolves;
    clean.solvent += film.solvent;
    clean.leave(drag[1]);
  };
  wash();
  for (let day = 0; day < 7 * weeks; day += 1) {
    for (const tub of [dirty, clean])
      if (tub.ml < 3600) {
        counted.topUp += 4000 - tub.ml;
        tub.pour(4000 - tub.ml);
      }
    if (day % 7 > 4) continue;
    for (let load = 0; load < 2; load += 1) {
      wash();
      counted.loads += 1;
      if (dirty.wtPct < 10 && clean.wtPct < 2) continue;
      counted.days.push(day);
      counted.waste += dirty.ml;
      counted.wasteG += dirty.resin + dirty.solvent;
      if (clean.ml > 4000) {
        // What does not fit below the mark of dirty.
        counted.waste += clean.ml - 4000;
        const surplus = clean.leave(clean.ml - 4000);
        counted.wasteG += surplus.resin + surplus.solvent;
      }
      [dirty.resin, dirty.solvent] = [clean.resin, clean.solvent];
      counted.makeUp += Math.max(0, 4000 - dirty.ml);
      dirty.pour(Math.max(0, 4000 - dirty.ml));
      [clean.resin, clean.solvent] = [0, 0];
      clean.pour(4000);
      counted.fill += 4000;
    }
  }
  return counted;
}

describe('up to a day, nothing lost to the air', () => {
  const header = headerOf({ dirty: {}, clean: {} }, more);
  // Clean falls below its mark with the first, and rises above it with the second.
  const drags = [
    [24, 32],
    [32, 24],
  ] as const;
  it.each(drags.flatMap((drag) => [1, 6, 26, 52].map((weeks) => [weeks, drag] as const)))(
    '%d weeks with drag-out %j mL go as MODEL by hand',
    (weeks, drag) => {
      const hand = byHand(weeks, drag);
      const { until } = at(header, [...FILLED, givenWith(drag)], weeks);
      const { best } = until;
      expect(best.changes.map(({ atMs }) => Math.floor((atMs - MONDAY) / DAY))).toEqual(hand.days);
      expect(new Set(best.changes.map(({ action }) => action))).toEqual(
        new Set(hand.days.length > 0 ? ['rotate'] : []),
      );
      expect(until.changes.p50).toBe(hand.days.length);
      const sum = (of: (change: (typeof best.changes)[number]) => number) =>
        best.changes.reduce((all, change) => all + of(change), 0);
      expect(sum(({ fillMl }) => fillMl)).toBeCloseTo(hand.fill, 6);
      expect(sum(({ makeUpMl }) => makeUpMl)).toBeCloseTo(hand.makeUp, 4);
      expect(best.topUpMl).toBeCloseTo(hand.topUp, 4);
      expect(until.solventMl.p50).toBeCloseTo(hand.fill + hand.makeUp + hand.topUp, 4);
      expect(until.wasteMl.p50).toBeCloseTo(hand.waste, 4);
      expect(until.wasteG.p50).toBeCloseTo(hand.wasteG, 4);
      expect(until.loads.p50).toBe(hand.loads);
      expect(until.parts.p50).toBe(5 * hand.loads);
      // Eight a litre.
      expect(until.cost!.p50).toBeCloseTo(((hand.fill + hand.makeUp + hand.topUp) * 8) / 1000, 6);
    },
  );

  it('this test sees changes and top-ups at all', () => {
    for (const drag of drags) {
      const hand = byHand(52, drag);
      expect(hand.days.length).toBeGreaterThan(5);
      expect(hand.topUp).toBeGreaterThan(300);
    }
    expect(byHand(52, drags[0]).makeUp).toBeGreaterThan(100);
    expect(byHand(52, drags[1]).makeUp).toBeCloseTo(0, 6);
  });

  it('begins on the date of the outlook, where nothing is topped up before', () => {
    const heavy = { ...given, carry_g: 40, drag_ml: [9, 9] } as Draft;
    const { until, outlook } = at(header, [...FILLED, heavy], 8);
    const met = Math.floor(outlook.days!.p50);
    expect(Math.floor((until.best.changes[0]!.atMs - MONDAY) / DAY)).toBe(met);
  });
});

describe('what is counted', () => {
  const airy = headerOf({ dirty: OPEN, clean: OPEN }, more);
  const loads = [1, 5, 25, 29, 49].map((hour) => ({ what: 'wash', parts: { model: 6 }, hour }) as Draft);

  it('balances: in = change held + parts + tray + waste + air', () => {
    for (const midrinse of ['none', 'spray'] as const) {
      const rinsed = loads.map((load) => ({ ...load, midrinse }) as Draft);
      const { until, status, shop } = at(airy, [...FILLED, ...rinsed], 20, 5);
      const { best } = until;
      expect(best.changes.length).toBeGreaterThan(2);
      const [before, after] = [held(status.replayed.baths), held(best.baths)];
      const { tally } = best;
      for (const what of ['resin', 'ipa', 'water'] as const) {
        const out = tally.parts[what] + tally.tray[what] + tally.waste[what] + tally.air[what];
        expect(before[what] + tally.in[what]).toBeCloseTo(after[what] + out, 7);
      }
      const { density } = shop.solvents.get('ipa99')!;
      expect(until.solventMl.p50 * density).toBeCloseTo(tally.in.ipa + tally.in.water, 6);
      expect(until.wasteG.p50).toBeCloseTo(tally.waste.resin + tally.waste.ipa + tally.waste.water, 6);
      expect(best.pours.reduce((sum, { ml }) => sum + ml, 0)).toBeCloseTo(until.solventMl.p50, 6);
    }
  });

  it('keeps every bath below its limit and above nine tenths of its mark, but for a day', () => {
    const { until, shop } = at(airy, [...FILLED, ...loads], 30, 5);
    until.best.baths.forEach((bath, place) => {
      const { markMl, limits } = shop.tubs[place]!;
      expect(100 * resinFraction(bath)).toBeLessThan(limits.resin[1]);
      expect(bathVolume(bath, shop.resins)).toBeGreaterThan(0.85 * markMl);
    });
  });

  it('refills a clean bath at its water limit and does not rotate it', () => {
    // In a damp room an open clean bath takes up water long before a load a day brings it resin.
    const damp = headerOf(
      { dirty: {}, clean: { ...OPEN, lid_open_h: 24 } },
      { ...more, shop: { ...more.shop, humidity_pct: 95 } },
    );
    const light = { ...given, carry_g: 0.2, drag_ml: [5, 5] } as Draft;
    const { until } = at(damp, [...FILLED, light], 26, 0.2);
    expect(until.best.changes.length).toBeGreaterThan(0);
    for (const change of until.best.changes) expect(change).toMatchObject({ action: 'refill' });
    expect(until.best.changes[0]!.baths).toContain('clean');
  });

  it('refills one bath that is alone', () => {
    const alone = headerOf({ rinse: {} }, more);
    const one = { ...given, drag_ml: [10], minutes: [5] } as Draft;
    const { until } = at(alone, [{ ...FILLED[0]!, bath: 'rinse' } as Draft, one], 10);
    expect(until.best.changes.length).toBeGreaterThan(1);
    for (const change of until.best.changes)
      expect(change).toMatchObject({ action: 'refill', baths: ['rinse'], makeUpMl: 0 });
  });

  it('changes what is past its limit first of all', () => {
    const heavy = Array.from({ length: 5 }, (_, day) => ({
      ...given,
      carry_g: 120,
      hour: 24 * day + 1,
    })) as Draft[];
    const { until } = at(headerOf({ dirty: {}, clean: {} }, more), [...FILLED, ...heavy], 4);
    expect(until.best.changes[0]!.atMs).toBe(MONDAY);
  });

  it('stops where a load takes more out than a bath holds', () => {
    const flood = { ...given, drag_ml: [3900, 10] } as Draft;
    const { until } = at(headerOf({ dirty: { mark_ml: 3000 }, clean: {} }, more), [...FILLED, flood], 4);
    expect(until.best.stopped).toMatchObject({ why: 'runs-dry' });
  });
});
