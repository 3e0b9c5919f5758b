import { describe, expect, it } from 'vitest';
import type { Liquid } from '../../src/bath/liquid.ts';
import { lookOf } from '../../src/belief/readings.ts';
import type { ReadingEvent } from '../../src/ledger/event.ts';

const reading = (keys: object): ReadingEvent => ({
  id: 'r',
  at: '',
  what: 'reading',
  bath: 'dirty',
  ...keys,
});
const ROOM_C = 22;

/** A liquid of so much resin of 1.11 g/mL and n 1.490 in a solvent of so much IPA, 1 kg of it. */
function liquid(resinWtPct: number, ipaWtPct = 100): Liquid {
  const resinG = 10 * resinWtPct;
  const ipaG = ((1000 - resinG) * ipaWtPct) / 100;
  return { resinG, ipaG, waterG: 1000 - resinG - ipaG, resinDensity: 1.11, resinIndex: 1.49 };
}

const look = (keys: object, expected = liquid(0)) => lookOf(reading(keys), ROOM_C, expected);

describe('a hydrometer', () => {
  it('marked in g/mL is compared as it stands', () => {
    const made = look({ density_g_ml: 0.8021, temp_c: 25 });
    expect(made).toMatchObject({ sees: 'density', value: 0.8021, instrumentSd: 0.001, modelSd: 0.0007 });
    expect(made.shown(0.8)).toBe(0.8);
  });

  // Water at 20, 25 and 15.56 °C is 0.998207, 0.997047 and 0.999017 g/mL: TANAKA2001, rows ipa-001 to 003 of tests/published.
  it.each([
    ['20/20', 0.998207],
    ['25/25', 0.997047],
    ['60/60F', 0.999017],
  ])('marked in SG %s shows so many times its water, %s g/mL, and so does its error', (sg_ref, water) => {
    const made = look({ sg: 0.82, sg_ref });
    expect(made.value).toBeCloseTo(0.82 * water, 5);
    expect(made.shown(made.value)).toBeCloseTo(0.82, 12);
    expect(look({ sg: 0.82, sg_ref, sd: 0.002 }).instrumentSd).toBeCloseTo(0.002 * water, 8);
  });

  it('of glass made for 20 °C reads 0.8000 at 30 °C in 0.7998 g/mL: R [1 − 25e-6 (T − T_ref)], by hand', () => {
    const made = look({ density_g_ml: 0.8, temp_c: 30, t_ref_c: 20 });
    expect(made.value).toBeCloseTo(0.8 - 0.8 * 25e-6 * 10, 12);
    expect(made.shown(0.7998)).toBeCloseTo(0.8, 12);
    const sg = look({ sg: 0.8, sg_ref: '20/20', temp_c: 30, t_ref_c: 20 });
    expect(sg.value).toBeCloseTo(0.8 * 0.998207 * (1 - 25e-6 * 10), 5);
    expect(sg.shown(sg.value)).toBeCloseTo(0.8, 12);
  });

  // DAOUDI2012 and GONZALEZ2008, rows ipa-009 to 011 and 021 of tests/published, with their tolerances.
  it.each([
    [20, 100, 0.7852, 0.0003],
    [30, 100, 0.77672, 0.0003],
    [40, 100, 0.76794, 0.0003],
    [25, 68.91, 0.8577, 0.0005],
  ])('at %s °C in solvent of %s wt-% sees the published %s g/mL', (temp_c, ipaWtPct, density, tolerance) => {
    const { see } = look({ density_g_ml: 0.8, temp_c });
    expect(Math.abs(see(liquid(0, ipaWtPct)) - density)).toBeLessThan(tolerance);
  });

  it('sees resin by volumes that add up: 10 wt% in dry IPA at 20 and at 30 °C, by hand', () => {
    // 1/ρ = 0.1/1.11 + 0.9/0.785157; at 30 °C resin 1.11 (1 − 0.007), IPA 0.785157 − 0.0082993 − 0.0001762.
    expect(look({ density_g_ml: 0.8, temp_c: 20 }).see(liquid(10))).toBeCloseTo(
      1 / (0.1 / 1.11 + 0.9 / 0.785157),
      6,
    );
    const warm = 1 / (0.1 / (1.11 * 0.993) + 0.9 / (0.785157 - 8.29933e-3 - 1.76229e-4));
    expect(look({ density_g_ml: 0.8, temp_c: 30 }).see(liquid(10))).toBeCloseTo(warm, 6);
  });

  it('without a temperature is taken to have been in the room', () => {
    const one = look({ density_g_ml: 0.8 }).see(liquid(5));
    expect(one).toBe(look({ density_g_ml: 0.8, temp_c: ROOM_C }).see(liquid(5)));
    expect(one).not.toBe(look({ density_g_ml: 0.8, temp_c: 20 }).see(liquid(5)));
  });
});

describe('a refractometer', () => {
  it('marked in n_D is compared as it stands', () => {
    const made = look({ refractive_index: 1.3789 });
    expect(made).toMatchObject({ sees: 'index', value: 1.3789, instrumentSd: 0.0003, modelSd: 0.0006 });
    expect(made.shown(1.38)).toBe(1.38);
  });

  // CRC Handbook, four decimals (CRCSUCROSE in data/SOURCES.md).
  it.each([
    [26, 1.3741],
    [30, 1.3812],
    [36, 1.3922],
  ])('of %s °Brix shows the index %s of the sugar tables', (brix, index) => {
    const made = look({ brix });
    expect(Math.abs(made.value - index)).toBeLessThan(0.0001 + 1e-9);
    expect(made.shown(made.value)).toBeCloseTo(brix, 6);
  });

  it('marked in °Brix has an error of so many indices a degree: 0.00184 at 30, by the CRC table from 26 to 36', () => {
    // (1.3922 − 1.3741)/10 = 0.00181 on average; the curve is a little steeper above its middle, 31.
    const { instrumentSd } = look({ brix: 31, sd: 0.5 });
    expect(instrumentSd / 0.5).toBeCloseTo(0.00181, 4);
    expect(look({ brix: 31 }).instrumentSd).toBe(0.0003);
  });

  // CHU1962 at 25 °C: 1.3749 for dry IPA; data/refractive_index.csv at 20 °C: 49.36 wt% 1.3679.
  it.each([
    [25, 100, 1.3749],
    [20, 49.36, 1.3679],
  ])('at %s °C in solvent of %s wt-% sees the published %s', (temp_c, ipaWtPct, index) => {
    const { see } = look({ refractive_index: 1.38, temp_c });
    expect(Math.abs(see(liquid(0, ipaWtPct)) - index)).toBeLessThan(0.0006);
  });

  it('sees resin by Lorentz and Lorenz: 10 wt% in dry IPA at 20 °C, by hand', () => {
    // Volumes 10/1.11 and 90/0.785157 make φ 0.07287; L = (n² − 1)/(n² + 2) of 1.490 and 1.3772 are 0.28912 and 0.23011.
    const lorentz = (n: number) => (n * n - 1) / (n * n + 2);
    const share = 10 / 1.11 / (10 / 1.11 + 90 / 0.785157);
    const mixed = share * lorentz(1.49) + (1 - share) * lorentz(1.3772);
    const seen = look({ refractive_index: 1.38, temp_c: 20 }).see(liquid(10));
    expect(lorentz(seen)).toBeCloseTo(mixed, 9);
    expect(seen).toBeCloseTo(1.3851, 4);
  });

  it('in a warm bath reads lower, by about 0.0004 a degree', () => {
    const at = (temp_c: number) => look({ refractive_index: 1.38, temp_c }).see(liquid(5));
    expect((at(20) - at(30)) / 10).toBeCloseTo(0.0004, 4);
  });
});

describe('a dried sample', () => {
  // Derived, common figures of the trade: 10 mL leave 79 mg at 1 wt%, 158 at 2, 809 at 10.
  it.each([
    [79, 1],
    [158, 2],
    [809, 10],
  ])('of 10 mL that leaves %s mg is %s wt-%', (mg, resinWtPct) => {
    const made = look({ residue: { sample_ml: 10, dry_g: mg / 1000 }, temp_c: 20 }, liquid(resinWtPct));
    expect(Math.abs(made.value - resinWtPct)).toBeLessThan(0.01);
    expect(made).toMatchObject({ sees: 'resin', instrumentSd: 0.2, modelSd: 0 });
    // What was expected is seen as it is.
    expect(made.see(liquid(resinWtPct))).toBeCloseTo(resinWtPct, 9);
  });

  it('of another liquid than expected holds grams of a volume: w_r ρ', () => {
    const { see } = look({ residue: { sample_ml: 10, dry_g: 0.4 }, temp_c: 20 }, liquid(5));
    // 1/ρ = w/1.11 + (1 − w)/0.785157 by hand.
    const gramsPerMl = (share: number) => share / (share / 1.11 + (1 - share) / 0.785157);
    expect(see(liquid(10)) / see(liquid(5))).toBeCloseTo(gramsPerMl(0.1) / gramsPerMl(0.05), 6);
  });

  it('of a warm bath holds less', () => {
    const cold = look({ residue: { sample_ml: 10, dry_g: 0.4 }, temp_c: 20 }, liquid(5));
    const warm = look({ residue: { sample_ml: 10, dry_g: 0.4 }, temp_c: 30 }, liquid(5));
    // IPA thins by 1.08 % in ten degrees (DAOUDI2012: 0.78520 to 0.77672), resin by 0.7 % (MODEL).
    expect(warm.value / cold.value).toBeCloseTo(1.0107, 3);
  });

  it('known from elsewhere is wt% as told', () => {
    const made = look({ resin_wt_pct: 4.2 }, liquid(9));
    expect(made).toMatchObject({ sees: 'resin', value: 4.2, instrumentSd: 0.2, modelSd: 0 });
    expect(made.see(liquid(7))).toBeCloseTo(7, 12);
    expect(look({ resin_wt_pct: 4.2, sd: 0.05 }).instrumentSd).toBe(0.05);
  });
});

describe('a level or a weight', () => {
  it('is a volume at 20 °C, known to 3 % of itself', () => {
    const made = look({ level_ml: 3900 });
    expect(made).toMatchObject({ sees: 'volume', value: 3900, modelSd: 0 });
    expect(made.instrumentSd).toBeCloseTo(117, 9);
    // 1 kg of dry IPA at 0.785157 g/mL; with a tenth resin by hand.
    expect(made.see(liquid(0))).toBeCloseTo(1000 / 0.785157, 3);
    expect(made.see(liquid(10))).toBeCloseTo(100 / 1.11 + 900 / 0.785157, 3);
  });

  it('of a warm bath shrinks as IPA does: 4000 mL at 30 °C are 3957 at 20 °C', () => {
    // DAOUDI2012: 0.77672/0.78520.
    const made = look({ level_ml: 4000, temp_c: 30, sd: 40 });
    expect(made.value).toBeCloseTo((4000 * 0.77672) / 0.7852, -1);
    expect(made.shown(made.value)).toBeCloseTo(4000, 9);
    expect(made.instrumentSd / 40).toBeCloseTo(0.77672 / 0.7852, 3);
  });

  it('is a mass, known to 5 g', () => {
    const made = look({ weight_g: 3100.5 });
    expect(made).toMatchObject({ sees: 'mass', value: 3100.5, instrumentSd: 5, modelSd: 0 });
    expect(made.see(liquid(3, 91))).toBeCloseTo(1000, 9);
    expect(look({ weight_g: 3100, sd: 1 }).instrumentSd).toBe(1);
  });
});

it('the error of a reading is that of its instrument, in its own unit', () => {
  expect(look({ density_g_ml: 0.8, sd: 0.0004 }).instrumentSd).toBe(0.0004);
  expect(look({ refractive_index: 1.38, sd: 0.0001 }).instrumentSd).toBe(0.0001);
  expect(look({ residue: { sample_ml: 10, dry_g: 0.4 }, sd: 0.02 }).instrumentSd).toBe(0.02);
  expect(look({ level_ml: 4000, sd: 20 }).instrumentSd).toBe(20);
});
