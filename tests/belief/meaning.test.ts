import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Liquid } from '../../src/bath/liquid.ts';
import { asResin, asWater, contentsOf, separated, withContents } from '../../src/belief/meaning.ts';
import { type Look, lookOf } from '../../src/belief/readings.ts';
import type { ReadingEvent } from '../../src/ledger/event.ts';

/** 1 kg of liquid with 1.11 g/mL resin of n 1.490. */
function liquid(resinWtPct: number, waterWtPct: number): Liquid {
  const resinG = 10 * resinWtPct;
  const waterG = ((1000 - resinG) * waterWtPct) / 100;
  return { resinG, ipaG: 1000 - resinG - waterG, waterG, resinDensity: 1.11, resinIndex: 1.49 };
}

const look = (keys: object): Look =>
  lookOf({ id: 'r', at: '', what: 'reading', bath: 'dirty', ...keys } as ReadingEvent, 22, liquid(0, 0));
const density = (temp_c: number) => look({ density_g_ml: 0.8, temp_c });
const index = (temp_c: number) => look({ refractive_index: 1.38, temp_c });

it('contents are resin in everything and water in the solvent', () => {
  const found = contentsOf(liquid(8, 5));
  expect(found.resinWtPct).toBeCloseTo(8, 9);
  expect(found.waterWtPct).toBeCloseTo(5, 9);
});

describe('a density taken for resin', () => {
  // Of the trade, derived: 0.7855 fresh at 20 °C, 0.0023 g/mL for each wt%; to the last digit printed.
  it.each([
    [0.788, 1],
    [0.79, 2],
    [0.797, 5],
    [0.809, 10],
    [0.822, 15],
    [0.834, 20],
  ])('of %s g/mL at 20 °C is %s wt-%', (value, resinWtPct) => {
    // Solvent of 0.7855 g/mL holds 0.1 wt% water. The last digit is worth 0.2 wt%.
    expect(Math.abs(asResin(density(20), value, liquid(3, 0.1))! - resinWtPct)).toBeLessThan(0.45);
  });

  it('is none at all where it is that of the solvent to the bit', () => {
    const { waterWtPct } = contentsOf(liquid(3, 0.1));
    const solvent = withContents(liquid(3, 0.1), { resinWtPct: 0, waterWtPct });
    expect(asResin(density(20), density(20).see(solvent), liquid(3, 0.1))).toBe(0);
  });

  it('below that of the solvent is none', () => {
    expect(asResin(density(20), 0.784, liquid(3, 0.1))).toBeNull();
    expect(asResin(density(20), 1.05, liquid(3, 0.1))).toBeNull();
  });
});

describe('a density taken for water', () => {
  // Published mixtures of IPA and water at 25 °C: JCED2012, GONZALEZ2008, CHU1962 (rows ipa-019 to 025 of tests/published).
  it.each([
    [0.79422, 4.98],
    [0.7994, 7],
    [0.8069, 10.16],
    [0.8361, 22.13],
  ])('of %s g/mL at 25 °C without resin is %s wt-%', (value, waterWtPct) => {
    expect(Math.abs(asWater(density(25), value, liquid(0, 1))! - waterWtPct)).toBeLessThan(0.25);
  });

  // CHU1962: 0.9039 g/mL has 50.64 wt%; water itself has 0.9970.
  it('is told for no more than 60 wt%, beyond which a bath is no model’s', () => {
    expect(asWater(density(25), 0.92, liquid(0, 1))).toBeGreaterThan(54);
    for (const value of [0.94, 0.97, 0.997, 1.05])
      expect(asWater(density(25), value, liquid(0, 1))).toBeNull();
  });

  it('of a bath weighs as resin does: 1 wt% of resin is 0.9 of water', () => {
    const value = density(20).see(liquid(4, 2));
    const more = density(20).see(liquid(5, 2));
    expect(asWater(density(20), value, liquid(4, 2))).toBeCloseTo(2, 9);
    expect(asWater(density(20), more, liquid(4, 2))! - 2).toBeCloseTo(0.9, 1);
  });
});

describe('an index', () => {
  it('hardly sees water: what one wt% of resin adds, ten of water do not take', () => {
    const at = (resinWtPct: number, waterWtPct: number) => index(20).see(liquid(resinWtPct, waterWtPct));
    expect(at(6, 3) - at(5, 3)).toBeGreaterThan(5e-4);
    expect(Math.abs(at(5, 12) - at(5, 2))).toBeLessThan(5e-4);
  });
});

describe('density and index of one sample', () => {
  it('give back the resin and the water of any mixture up to 40 wt% of either', () => {
    const amount = (most: number) => fc.double({ min: 0.01, max: most, noNaN: true });
    fc.assert(
      fc.property(
        amount(40),
        amount(40),
        amount(20),
        amount(20),
        fc.constantFrom(18, 22, 27),
        (r, w, r0, w0, t) => {
          const truth = liquid(r, w);
          const found = separated(
            { look: density(t), value: density(t).see(truth) },
            { look: index(t), value: index(t).see(truth) },
            liquid(r0, w0),
          );
          expect(found!.resinWtPct).toBeCloseTo(r, 6);
          expect(found!.waterWtPct).toBeCloseTo(w, 6);
        },
      ),
    );
  });

  // CHU1962 measured both of IPA and water at 25 °C; data/ipa_water_density.csv and data/refractive_index.csv.
  it.each([
    [0.8772, 1.37, 39.48],
    [0.9039, 1.3662, 50.64],
  ])('of published solvent, %s g/mL and %s, find hardly any resin and %s wt-% water', (value, n, water) => {
    // The formula of the index is good to 0.0006, half a wt% of resin, which weighs as much as half a wt% of water. So much higher
    // it is met by a little resin; so much lower it lies under the solvent's own, which is taken for none.
    const of = (more: number) =>
      separated({ look: density(25), value }, { look: index(25), value: n + more }, liquid(4, 1));
    expect(of(0.0006)!.resinWtPct).toBeLessThan(1.2);
    expect(Math.abs(of(0.0006)!.waterWtPct - water)).toBeLessThan(1.3);
    expect(of(-0.0006)!.resinWtPct).toBe(0);
    expect(Math.abs(of(-0.0006)!.waterWtPct - water)).toBeLessThan(2.5);
  });

  it('that no mixture has are told as such', () => {
    expect(
      separated({ look: density(20), value: 0.77 }, { look: index(20), value: 1.3772 }, liquid(4, 1)),
    ).toBeNull();
  });

  // 1.36 lies below IPA (1.3772) and above water (1.3330), CRC102; 0.81 g/mL is IPA with a tenth of water.
  it('with a density that some water explains and an index that nothing does are told as such', () => {
    const seen = { look: density(20), value: 0.81 };
    expect(asWater(density(20), 0.81, liquid(0, 1))).toBeGreaterThan(5);
    expect(separated(seen, { look: index(20), value: 1.36 }, liquid(4, 1))).toBeNull();
    expect(separated(seen, { look: index(20), value: 1.6 }, liquid(4, 1))).toBeNull();
  });
});
