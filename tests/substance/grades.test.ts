import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { GRADES, gradeOf } from '../../src/substance/grades.ts';

describe('gradeOf', () => {
  it.each([
    [100, 'usp-isopropyl-alcohol'], // USP29
    [99, 'usp-isopropyl-alcohol'], // USP29
    [87.7, 'usp-azeotropic'], // USP28: 91.2 vol%
    [87.9, 'usp-azeotropic'], // the azeotrope, LANGE10
    [62.8, 'usp-rubbing'], // USP32: 70 vol%
    [95, undefined],
    [75, undefined],
  ])('of %f wt% is %s', (wtPct, name) => {
    expect(gradeOf(wtPct)?.name).toBe(name);
  });

  it('allows for what the reading can tell', () => {
    expect(gradeOf(98.7)).toBeNull();
    expect(gradeOf(98.7, 0.5)?.name).toBe('usp-isopropyl-alcohol');
  });

  it('says the limits in words, as the monograph does, in a source that is named', () => {
    const sources = readFileSync('data/SOURCES.md', 'utf8');
    const limits = GRADES.map(({ words }) => [...words.matchAll(/\d+\.\d/g)].map(([limit]) => Number(limit)));
    expect(limits).toEqual([[99], [91, 93], [68, 72]]); // USP29, USP28, USP32
    for (const { words, source, lowWtPct } of GRADES) {
      expect(words).toMatch(/isopropyl .*alcohol|isopropyl alcohol/);
      expect(sources).toMatch(new RegExp(`\\b${source}\\b`));
      expect(source).toMatch(/^USP\d+$/);
      expect(lowWtPct).toBeLessThan(100);
    }
  });

  it('has the limits of the monographs in wt%: 87.4–90.0 and 60.6–64.9', () => {
    const [, azeotropic, rubbing] = GRADES;
    expect(azeotropic!.lowWtPct).toBeCloseTo(87.4, 1);
    expect(azeotropic!.highWtPct).toBeCloseTo(90.0, 1);
    expect(rubbing!.lowWtPct).toBeCloseTo(60.6, 1);
    expect(rubbing!.highWtPct).toBeCloseTo(64.9, 1);
  });
});
