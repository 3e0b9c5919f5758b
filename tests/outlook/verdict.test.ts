import { describe, expect, it } from 'vitest';
import { isAtLeast, isWorse, judge, judgeBath, VERDICTS } from '../../src/outlook/verdict.ts';

const LIMITS = [8, 10, 20] as const;
const best = (p50: number) => ({ p50 });
/** The next number below. */
const below = (value: number) => value * (1 - Number.EPSILON);

describe('one figure against its limits', () => {
  it.each([
    [0, 'keep'],
    [below(8), 'keep'],
    [8, 'soon'],
    [below(10), 'soon'],
    [10, 'change'],
    [below(20), 'change'],
    [20, 'stop'],
    [100, 'stop'],
  ] as const)('%d wt% is %s', (value, verdict) => {
    expect(judge(best(value), LIMITS)).toBe(verdict);
  });

  it('says soon where only the 95 % point has come to change', () => {
    expect(judge({ p05: 5, p50: 7, p95: 10 }, LIMITS)).toBe('soon');
    expect(judge({ p05: 5, p50: 7, p95: below(10) }, LIMITS)).toBe('keep');
    // However far it reaches: more than soon needs the median.
    expect(judge({ p05: 1, p50: 7, p95: 60 }, LIMITS)).toBe('soon');
    expect(judge({ p05: 9, p50: 11, p95: 60 }, LIMITS)).toBe('change');
  });
});

describe('a bath', () => {
  const limits = { resin: [1.5, 2, 5], water: [5, 8, 12], ageDays: 28 } as const;
  const judged = (resin: number, water: number, ageDays: number) =>
    judgeBath({ resinWtPct: best(resin), waterWtPct: best(water), ageDays }, limits);

  it('is as bad as its worst figure, which it names', () => {
    expect(judged(0, 0, 0)).toEqual({ verdict: 'keep', because: 'none' });
    expect(judged(1.6, 0, 0)).toEqual({ verdict: 'soon', because: 'resin' });
    expect(judged(1.6, 9, 0)).toEqual({ verdict: 'change', because: 'water' });
    expect(judged(5, 9, 40)).toEqual({ verdict: 'stop', because: 'resin' });
  });

  it('by age alone says soon, from the day itself, and never more', () => {
    expect(judged(0, 0, below(28)).verdict).toBe('keep');
    expect(judged(0, 0, 28)).toEqual({ verdict: 'soon', because: 'age' });
    expect(judged(0, 0, 4000).verdict).toBe('soon');
    expect(judged(2, 0, 4000)).toEqual({ verdict: 'change', because: 'resin' });
  });

  it('of equally bad figures names resin before water before age', () => {
    expect(judged(1.6, 6, 40).because).toBe('resin');
    expect(judged(0, 6, 40).because).toBe('water');
    expect(judged(3, 9, 0).because).toBe('resin');
  });
});

it('verdicts are in order', () => {
  VERDICTS.forEach((one, at) => {
    VERDICTS.forEach((other, place) => {
      expect(isWorse(one, other)).toBe(at > place);
      expect(isAtLeast(one, other)).toBe(at >= place);
    });
  });
});
