import { describe, expect, it } from 'vitest';
import { figuresOf } from '../../src/bath/figures.ts';
import type { Resin } from '../../src/bath/shop.ts';
import {
  type Bath,
  bathDensity,
  bathVolume,
  copyBath,
  copyInto,
  emptyBath,
  emptyFilm,
  isBeyondModel,
  isEmpty,
  leaveEmpty,
  moveShare,
  resinMean,
  solventVolume,
} from '../../src/bath/state.ts';
import { mixtureDensity } from '../../src/substance/mixture.ts';

const resin = (name: string, density: number, viscosity25: number, index: number): Resin => ({
  name,
  density,
  viscosity25,
  viscosityRoom: viscosity25,
  index,
});
const RESINS = [resin('light', 1.0, 100, 1.45), resin('heavy', 1.5, 900, 1.53)];

function bathOf(light: number, heavy: number, ipaG: number, waterG: number): Bath {
  return { ...emptyBath(), resin: [light, heavy], ipaG, waterG };
}

describe('properties of the resin in a bath', () => {
  it('are means by mass', () => {
    const bath = bathOf(30, 10, 500, 0);
    expect(resinMean(bath, RESINS, 'density')).toBeCloseTo((30 * 1.0 + 10 * 1.5) / 40, 12);
    expect(resinMean(bath, RESINS, 'viscosity25')).toBeCloseTo(300, 12);
    expect(resinMean(bath, RESINS, 'index')).toBeCloseTo(1.47, 12);
  });

  it('are those of the first resin where there is none', () => {
    expect(resinMean(bathOf(0, 0, 1, 0), RESINS, 'density')).toBe(1.0);
  });
});

describe('volume and density', () => {
  it('by hand: 40 g of resin and 500 g of dry IPA', () => {
    const bath = bathOf(30, 10, 500, 0);
    // ρ_r 1.125 and ρ_ipa 0.785157 g/mL at 20 °C.
    const volumeMl = 40 / 1.125 + 500 / 0.785157;
    expect(bathVolume(bath, RESINS)).toBeCloseTo(volumeMl, 6);
    expect(bathDensity(bath, RESINS, 20)).toBeCloseTo(540 / volumeMl, 9);
    // At 30 °C the resin has thinned by 0.7 %.
    const warm = 40 / (1.125 * (1 - 0.007)) + 500 / mixtureDensity(1, 30);
    expect(bathDensity(bath, RESINS, 30)).toBeCloseTo(540 / warm, 9);
  });

  it('hold the density of the solvent at 40 wt% below it, and say that the data end', () => {
    expect(solventVolume(20, 80)).toBeCloseTo(100 / mixtureDensity(0.4, 20), 12);
    expect(isBeyondModel(bathOf(0, 0, 39, 61))).toBe(true);
    expect(isBeyondModel(bathOf(0, 0, 40, 60))).toBe(false);
    expect(isBeyondModel(emptyBath())).toBe(false);
  });
});

describe('moving and copying', () => {
  it('moves a share of all masses, none lost', () => {
    const bath = bathOf(30, 10, 500, 4);
    const film = emptyFilm();
    moveShare(bath, 0.25, film);
    expect([...film.resin, film.ipaG, film.waterG]).toEqual([7.5, 2.5, 125, 1]);
    expect([...bath.resin, bath.ipaG, bath.waterG]).toEqual([22.5, 7.5, 375, 3]);
  });

  it('copies what does not change with the copy', () => {
    const bath = bathOf(1, 2, 3, 4);
    const copy = copyBath(bath);
    const other = emptyBath();
    copyInto(other, bath);
    bath.resin[0] = 99;
    bath.ipaG = 99;
    for (const one of [copy, other]) expect([...one.resin, one.ipaG, one.waterG]).toEqual([1, 2, 3, 4]);
  });

  it('leaves an emptied bath without age and not dry', () => {
    const bath: Bath = { ...emptyBath(), pouredMs: 5, dry: true };
    leaveEmpty(bath);
    expect(isEmpty(bath)).toBe(true);
    expect([bath.pouredMs, bath.dry]).toEqual([Number.NaN, false]);
  });
});

describe('figures people read', () => {
  it('by hand: 10 wt% resin of 1.0 g/mL in dry IPA', () => {
    const figures = figuresOf(bathOf(100, 0, 900, 0), RESINS, 20);
    const volumeMl = 100 + 900 / 0.785157;
    expect(figures.resinWtPct).toBeCloseTo(10, 12);
    expect(figures.resinGPerL).toBeCloseTo(100_000 / volumeMl, 6);
    expect(figures.resinVolPct).toBeCloseTo(10_000 / volumeMl, 6);
    // The heavier resin, 1.5 g/mL, takes two thirds of the room.
    const heavyMl = 100 / 1.5 + 900 / 0.785157;
    const heavy = figuresOf(bathOf(0, 100, 900, 0), RESINS, 20);
    expect(heavy.resinVolPct).toBeCloseTo(10_000 / 1.5 / heavyMl, 6);
    expect(figures.waterWtPct).toBe(0);
    expect(figures.massG).toBe(1000);
    // Lorentz and Lorenz over the volumes, n 1.45 and 1.3772.
    const part = (n: number) => (n * n - 1) / (n * n + 2);
    const mixed = (100 * part(1.45) + (volumeMl - 100) * part(1.3772)) / volumeMl;
    expect(figures.indexRoom).toBeCloseTo(Math.sqrt((1 + 2 * mixed) / (1 - mixed)), 9);
  });

  it('count water in the solvent, resin left out', () => {
    expect(figuresOf(bathOf(500, 0, 90, 10), RESINS, 22).waterWtPct).toBeCloseTo(10, 12);
  });

  it('rise in refractive index by about 0.0008 for each wt% of resin, common practice, no source', () => {
    const standard = [resin('standard', 1.11, 400, 1.49)];
    const at = (grams: number) =>
      figuresOf({ ...emptyBath(), resin: [grams], ipaG: 995, waterG: 5 }, standard, 20).indexRoom!;
    const rise = (at(1000 / 9) - at(0)) / 10;
    expect(rise).toBeGreaterThan(0.0006);
    expect(rise).toBeLessThan(0.001);
  });

  it('are null where there is nothing, or no data', () => {
    expect(figuresOf(emptyBath(), RESINS, 22)).toMatchObject({
      resinWtPct: null,
      waterWtPct: null,
      density20: null,
    });
    const weak = figuresOf(bathOf(1, 0, 30, 70), RESINS, 22);
    expect([weak.density20, weak.densityRoom, weak.indexRoom]).toEqual([null, null, null]);
    expect(weak.waterWtPct).toBeCloseTo(70, 12);
  });
});
