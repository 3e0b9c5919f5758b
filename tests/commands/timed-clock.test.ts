import { describe, expect, it } from 'vitest';
import { TimerClock } from '../../src/commands/timed-clock.ts';

const START = Date.UTC(2026, 10, 20, 10);

/** A computer whose clocks stand until they are moved. */
function computer(kept?: { aheadMs: number; keptMs: number }) {
  let [wallMs, tickMs] = [START, 7];
  const clock = new TimerClock(kept, { wallMs: () => wallMs, tickMs: () => tickMs });
  const gaps: number[] = [];
  clock.onGap = (ms) => gaps.push(ms);
  const pass = (walled: number, ticked: number) => {
    wallMs += walled;
    tickMs += ticked;
    return clock.nowMs() - START;
  };
  return { clock, gaps, pass };
}

describe('the clock of a guided wash', () => {
  it('begins at the wall clock and goes on with it', () => {
    const { clock, gaps, pass } = computer();
    expect(pass(200, 200)).toBe(200);
    expect(clock.aheadMs).toBe(0);
    expect(gaps).toEqual([]);
  });

  it('tells of a sleep once, and counts it', () => {
    const { gaps, pass } = computer();
    expect(pass(3_600_000, 150)).toBe(3_600_000);
    expect(pass(200, 200)).toBe(3_600_200);
    expect(gaps).toEqual([3_600_000]);
  });

  it('long work of the computer itself is no gap', () => {
    const { gaps, pass } = computer();
    pass(120_000, 120_000);
    expect(gaps).toEqual([]);
  });

  it('a wall clock that is set back leaves it alone, and what it tells of the wall is what the wall shows', () => {
    const { clock, pass } = computer();
    pass(60_000, 60_000);
    expect(pass(-3_600_000, 200)).toBe(60_200);
    expect(clock.wallOf(clock.nowMs())).toBe(START + 60_000 - 3_600_000);
  });

  it('taken up again goes on with what has passed, and never before where it stood', () => {
    const ahead = computer({ aheadMs: 5000, keptMs: START - 60_000 });
    expect(ahead.pass(0, 0)).toBe(5000);
    const setBack = computer({ aheadMs: 0, keptMs: START + 60_000 });
    expect(setBack.pass(0, 0)).toBe(60_000);
  });
});
