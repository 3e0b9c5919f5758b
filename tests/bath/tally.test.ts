import { describe, expect, it } from 'vitest';
import { emptyBath } from '../../src/bath/state.ts';
import { closeTally, copyTally, emptyTally, held, imbalance } from '../../src/bath/tally.ts';

describe('balance', () => {
  const bath = { ...emptyBath(), resin: [6], ipaG: 800, waterG: 10 };

  function closed() {
    const tally = emptyTally();
    tally.in = { resin: 10, ipa: 1000, water: 5 };
    tally.parts = { resin: 1, ipa: 20, water: 0.5 };
    tally.tray = { resin: 2, ipa: 0, water: 0 };
    tally.waste = { resin: 1, ipa: 100, water: 1 };
    // Water taken up counts negative.
    tally.air = { resin: 0, ipa: 80, water: -6.5 };
    return tally;
  }

  it('closes where in = held + parts + tray + waste + air', () => {
    expect(held([bath])).toEqual({ resin: 6, ipa: 800, water: 10 });
    expect(imbalance([bath], closed())).toBe(0);
    expect(imbalance([], emptyTally())).toBe(0);
  });

  it('tells the largest gap, relative to the largest figure of that substance', () => {
    const tally = closed();
    tally.tray.resin -= 1e-3;
    tally.waste.ipa += 1e-3;
    expect(imbalance([bath], tally)).toBeCloseTo(1e-4, 12);
  });

  it('sees a gap in each substance and each tally', () => {
    for (const place of ['in', 'parts', 'tray', 'waste', 'air'] as const) {
      for (const substance of ['resin', 'ipa', 'water'] as const) {
        const tally = closed();
        tally[place][substance] += 1;
        expect(imbalance([bath], tally), `${place} ${substance}`).toBeGreaterThan(1e-4);
      }
    }
  });

  it('copies a tally whole', () => {
    const copy = emptyTally();
    copyTally(copy, closed());
    expect(copy).toEqual(closed());
  });

  it('is closed again after a reading by resin that came in and solvent that the air took, and by nothing else', () => {
    const tally = closed();
    const read = { ...bath, resin: [9], ipaG: 790, waterG: 14 };
    closeTally([read], tally);
    expect(imbalance([read], tally)).toBeLessThan(1e-15);
    // 3 g more resin are there, 10 g less IPA, 4 g more water.
    expect(tally.in).toEqual({ resin: 13, ipa: 1000, water: 5 });
    expect(tally.air).toEqual({ resin: 0, ipa: 90, water: -10.5 });
    const { parts, tray, waste } = closed();
    expect(tally).toMatchObject({ parts, tray, waste });
  });

  it('counts solvent that went to the tray, and resin wherever it went', () => {
    const tally = closed();
    tally.tray.ipa += 7;
    tally.air.resin += 0.5;
    closeTally([bath], tally);
    expect(imbalance([bath], tally)).toBeLessThan(1e-15);
    expect(tally.air.ipa).toBe(73);
    expect(tally.in.resin).toBe(10.5);
  });
});
