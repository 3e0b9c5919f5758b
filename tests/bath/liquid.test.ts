/** What an instrument sees of a liquid, worked by hand from its parts. */
import { describe, expect, it } from 'vitest';
import {
  type Liquid,
  liquidDensity,
  liquidIndex,
  liquidMass,
  liquidOf,
  liquidResinFraction,
  liquidVolume,
} from '../../src/bath/liquid.ts';
import { openShop } from '../../src/bath/shop.ts';
import { emptyBath } from '../../src/bath/state.ts';
import { PAIR } from './bench.ts';

/** 100 g of resin of 1.2 g/mL and n 1.490 in 900 g of dry isopropanol. */
const DRY: Liquid = { resinG: 100, ipaG: 900, waterG: 0, resinDensity: 1.2, resinIndex: 1.49 };

describe('a liquid of one tenth resin in dry isopropanol', () => {
  it('weighs what its parts weigh', () => {
    expect(liquidMass({ ...DRY, waterG: 25 })).toBe(1025);
    expect(liquidResinFraction(DRY)).toBe(0.1);
    expect(liquidResinFraction({ ...DRY, ipaG: 850, waterG: 50 })).toBe(0.1);
  });

  // Isopropanol at 20 °C is 0.7852 g/mL (FITQUAD): 100/1.2 + 900/0.7852 mL.
  it('takes the room of its parts at 20 °C, which makes 0.8128 g/mL', () => {
    const byHandMl = 100 / 1.2 + 900 / 0.7852;
    expect(Math.abs(liquidVolume(DRY) - byHandMl)).toBeLessThan(0.08); // half a unit of the last digit of 0.7852
    expect(liquidDensity(DRY, 20)).toBeCloseTo(1000 / byHandMl, 4);
    expect(liquidVolume(DRY) * liquidDensity(DRY, 20)).toBeCloseTo(1000, 6);
  });

  // Shares of the volume 0.067781 and 0.932219; (n² − 1)/(n² + 2) of 1.490 is 0.289116, of 1.3772 (CHU1962) 0.230114.
  it('refracts by the volumes of its parts: 1.3846 at 20 °C', () => {
    const refraction = 0.067781 * 0.289116 + 0.932219 * 0.230114;
    const byHand = Math.sqrt((1 + 2 * refraction) / (1 - refraction));
    expect(byHand).toBeCloseTo(1.3846, 4);
    expect(liquidIndex(DRY, 20)).toBeCloseTo(byHand, 4);
  });

  it('counts water with the solvent: 5 wt% of water in it lies between dry and the CHU1962 value at 95 wt%', () => {
    const damp: Liquid = { ...DRY, ipaG: 855, waterG: 45 };
    expect(liquidIndex({ ...damp, resinG: 0 }, 20)).toBeCloseTo(1.377, 3);
    expect(Math.abs(liquidIndex(damp, 20) - liquidIndex(DRY, 20))).toBeLessThan(0.0003);
  });
});

describe('a liquid without resin', () => {
  it('is its solvent', () => {
    // CHU1962: 89.84 wt% at 25 °C is 0.8069 g/mL; 60.52 wt% reads 1.3700.
    const solvent = (wtPct: number): Liquid => ({
      ...DRY,
      resinG: 0,
      ipaG: 10 * wtPct,
      waterG: 1000 - 10 * wtPct,
    });
    expect(Math.abs(liquidDensity(solvent(89.84), 25) - 0.8069)).toBeLessThan(0.0005);
    expect(Math.abs(liquidIndex(solvent(60.52), 25) - 1.37)).toBeLessThan(0.0006);
  });
});

describe('the liquid of a bath', () => {
  it('has the resins by mass: 1 and 3 parts of two', () => {
    const { resins } = openShop(PAIR);
    const bath = { ...emptyBath(), resin: [10, 30], ipaG: 500, waterG: 20 };
    const liquid = liquidOf(bath, resins);
    expect(liquid).toMatchObject({ resinG: 40, ipaG: 500, waterG: 20 });
    expect(liquid.resinDensity).toBeCloseTo((resins[0]!.density + 3 * resins[1]!.density) / 4, 12);
    expect(liquid.resinIndex).toBeCloseTo((resins[0]!.index + 3 * resins[1]!.index) / 4, 12);
  });
});
