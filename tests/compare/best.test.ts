import { describe, expect, it } from 'vitest';
import { BEST_LIMIT_RUNS, bestLimit } from '../../src/compare/best.ts';

/** A shop of which no load begins past a limit up to a share of the limits, and all above it. */
function shopThatBreaksAbove(threshold: number) {
  const tried: number[] = [];
  const run = async (changeAt: number) => {
    tried.push(changeAt);
    return { overLimitShare: changeAt <= threshold ? 0.02 : 0.9 };
  };
  return { run, tried };
}

/** Every share may be tried. */
const any = () => true;

const twentieths = Array.from({ length: 60 }, (_, step) => (step + 1) / 20);

describe('the best limit', () => {
  it.each(twentieths)('is found where %f is the highest that keeps the risk', async (threshold) => {
    const { run, tried } = shopThatBreaksAbove(threshold + 0.01);
    const best = await bestLimit(0.05, any, run);
    expect(best!.changeAt).toBeCloseTo(threshold, 12);
    expect(best!.result.overLimitShare).toBe(0.02);
    expect(tried.length).toBeLessThanOrEqual(BEST_LIMIT_RUNS);
    expect(new Set(tried).size).toBe(tried.length);
  });

  it('keeps to a risk that is met exactly', async () => {
    const best = await bestLimit(0.3, any, async (changeAt) => ({
      overLimitShare: Math.min(1, changeAt / 3),
    }));
    expect(best!.changeAt).toBeCloseTo(0.9, 12);
  });

  it('is none where even the lowest share has a greater risk', async () => {
    expect(await bestLimit(0.05, any, shopThatBreaksAbove(0).run)).toBeNull();
  });

  it('is the end of the search where nothing is ever past a limit', async () => {
    expect((await bestLimit(0, any, async () => ({ overLimitShare: 0 })))!.changeAt).toBe(3);
  });

  it.each(twentieths)('stays at or below %f where no more is allowed, and never tries more', async (most) => {
    const { run, tried } = shopThatBreaksAbove(10);
    const best = await bestLimit(0.05, (changeAt) => changeAt <= most + 0.01, run);
    expect(best!.changeAt).toBeCloseTo(most, 12);
    expect(Math.max(...tried)).toBeLessThanOrEqual(most + 0.01);
  });

  it('is none when the person leaves in the middle', async () => {
    let asked = 0;
    const run = async () => {
      asked += 1;
      return asked > 2 ? null : { overLimitShare: 0 };
    };
    expect(await bestLimit(0.05, any, run)).toBeNull();
    expect(asked).toBe(3);
  });
});
