import { describe, expect, it } from 'vitest';
import { fractionFromVolume } from '../../src/substance/mixture.ts';
import { ipaActivity } from '../../src/vapour/surface.ts';

/** A bath of so many vol% IPA. */
const bathOf = (volPct: number, resin: number[] = []) => {
  const share = volPct === 100 ? 1 : fractionFromVolume(volPct / 100, 20);
  return { ipaG: 1000 * share, waterG: 1000 * (1 - share), resin };
};

describe('activity of isopropanol in a bath', () => {
  // Worked by hand from the same van Laar constants (DEFAULTEVAP).
  it.each([
    [100, 1],
    [99, 0.95],
    [91, 0.73],
    [70, 0.59],
  ])('of %i vol%% is %f', (volPct, wanted) => {
    expect(ipaActivity(bathOf(volPct))).toBeCloseTo(wanted, 2);
  });

  it('falls with resin by a few per cent (Raoult, 200–400 g/mol: 0.97–0.98 at 10 wt%, 0.89–0.94 at 30)', () => {
    const at = (wtPct: number) => ipaActivity(bathOf(100, [(1000 * wtPct) / (100 - wtPct)]));
    expect(at(10)).toBeGreaterThan(0.97);
    expect(at(10)).toBeLessThan(0.98);
    expect(at(30)).toBeGreaterThan(0.89);
    expect(at(30)).toBeLessThan(0.94);
  });
});
