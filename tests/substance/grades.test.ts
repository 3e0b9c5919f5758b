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

  it('has the limits of the monographs in wt%: 87.4–90.0 and 60.6–64.9', () => {
    const [, azeotropic, rubbing] = GRADES;
    expect(azeotropic!.lowWtPct).toBeCloseTo(87.4, 1);
    expect(azeotropic!.highWtPct).toBeCloseTo(90.0, 1);
    expect(rubbing!.lowWtPct).toBeCloseTo(60.6, 1);
    expect(rubbing!.highWtPct).toBeCloseTo(64.9, 1);
  });
});
