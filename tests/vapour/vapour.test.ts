import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { headspacePercent } from '../../src/vapour/headspace.ts';
import { vapourOf } from '../../src/vapour/vapour.ts';
import { anyQuestion, standardQuestion } from './questions.ts';

describe('two standard tubs in 30 m³ with 2 air changes an hour', () => {
  const { together, steady, short, trigger, limits } = vapourOf(standardQuestion);

  it('give the figures worked out by hand (DEFAULTEVAP)', () => {
    // 9.0 g/h; m 0.5 → 122 ppm, ×4 at m 0.1 → 2450; the upper model 102 g/h at m 0.5 → 1380 ppm.
    expect(together.best.p50).toBeCloseTo(9.0, 1);
    expect(Math.abs(steady.low / 122 - 1)).toBeLessThan(0.01);
    expect(Math.abs(steady.high / 2450 - 1)).toBeLessThan(0.01);
    expect(Math.abs(together.caution / 102 - 1)).toBeLessThan(0.01);
    expect(Math.abs(steady.cautionLow / 1380 - 1)).toBeLessThan(0.01);
    // 17 ppm after 10 minutes at m 1, so less air out and a little more at 0.5.
    expect(short.low).toBeGreaterThan(17.3);
    expect(short.low).toBeLessThan(20.4);
  });

  it('come to the caution trigger, and to every limit over a shift, at the high end', () => {
    expect(trigger).toEqual({ ppm: 200, reach: 'high-end' });
    const shifts = limits.filter(({ limit }) => limit.kind === 'shift');
    expect(shifts.length).toBeGreaterThan(6);
    for (const { reach } of shifts) expect(reach).toBe('high-end');
  });

  it('are held against one jurisdiction and the danger to life where one is named', () => {
    const { limits: chosen } = vapourOf({ ...standardQuestion, jurisdiction: 'uk' });
    expect(chosen.map(({ limit }) => limit.key)).toEqual(['us-niosh', 'uk', 'uk']);
    expect(chosen.find(({ limit }) => limit.key === 'us-niosh')!.limit.kind).toBe('danger');
  });
});

describe('any bench', () => {
  it('has ordered ranges, finite, within saturated air, and rising with the opening', () => {
    fc.assert(
      fc.property(anyQuestion, (question) => {
        const { short, steady, near, together, models } = vapourOf(question);
        const most = 1e4 * headspacePercent(1, question.tempC);
        for (const range of [short, steady, ...(near ? [near] : [])]) {
          const { low, high, cautionLow, cautionHigh } = range;
          for (const value of Object.values(range)) {
            expect(value).toBeGreaterThan(0);
            expect(value).toBeLessThanOrEqual(most);
          }
          expect(low).toBeLessThanOrEqual(high * (1 + 1e-9));
          expect(cautionLow).toBeLessThanOrEqual(cautionHigh * (1 + 1e-9));
          expect(high).toBeLessThanOrEqual(cautionHigh * (1 + 1e-9));
        }
        expect(short.low).toBeLessThanOrEqual(steady.low * (1 + 1e-9));
        if (near) expect(near.low).toBeGreaterThanOrEqual(short.low);
        expect(together.caution).toBeGreaterThanOrEqual(together.best.p50);
        expect(models.every(({ low, high }) => low > 0 && high >= low)).toBe(true);
      }),
    );
  });
});
