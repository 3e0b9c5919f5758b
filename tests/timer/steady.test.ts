import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Steady, steadied } from '../../src/timer/steady.ts';

const start: Steady = { wallMs: 1_000_000, tickMs: 50, nowMs: 1_000_000 };

describe('the clock of the timers', () => {
  it('goes on by the ticks', () => {
    expect(steadied(start, 1_000_200, 250).nowMs).toBe(1_000_200);
  });

  it('goes on by the wall clock where the ticks stood: the computer slept, and the parts did not', () => {
    expect(steadied(start, 1_000_000 + 2_500_000, 300).nowMs).toBe(3_500_000);
  });

  it('goes on by the ticks where the wall clock was set back', () => {
    expect(steadied(start, 1_000_000 - 3_600_000, 250).nowMs).toBe(1_000_200);
  });

  it('law: never backwards, and never behind the ticks', () => {
    const looks = fc.array(fc.tuple(fc.integer({ min: -1e7, max: 1e7 }), fc.integer({ min: 0, max: 1e6 })));
    fc.assert(
      fc.property(looks, (steps) => {
        let clock = start;
        for (const [walled, ticked] of steps) {
          const next = steadied(clock, clock.wallMs + walled, clock.tickMs + ticked);
          expect(next.nowMs - clock.nowMs).toBeGreaterThanOrEqual(ticked);
          clock = next;
        }
      }),
    );
  });
});
