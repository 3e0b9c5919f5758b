/** The clock that timers go by, and the wall clock beside it. */
import { type Steady, steadied } from '../timer/steady.ts';

/** What the computer has: read by turns, so that tests can have others. */
export interface Clocks {
  wallMs(): number;
  tickMs(): number;
}

const OWN: Clocks = { wallMs: () => Date.now(), tickMs: () => Number(process.hrtime.bigint() / 1_000_000n) };

/** A gap that is worth a word: the computer slept, or its clock was set. */
const GAP_MS = 60_000;

export class TimerClock {
  private readonly clocks: Clocks;
  private steady: Steady;
  /** Called with the length of a gap. */
  onGap: (ms: number) => void = () => {};

  /**
   * @param kept - of a wash that is taken up again: how far the timers' clock was ahead of the wall clock, and where it stood
   */
  constructor(kept: { aheadMs: number; keptMs: number } | undefined, clocks: Clocks = OWN) {
    const wallMs = clocks.wallMs();
    const nowMs = kept ? Math.max(wallMs + kept.aheadMs, kept.keptMs) : wallMs;
    this.clocks = clocks;
    this.steady = { wallMs, tickMs: clocks.tickMs(), nowMs };
  }

  nowMs(): number {
    const before = this.steady;
    this.steady = steadied(before, this.clocks.wallMs(), this.clocks.tickMs());
    const passed = this.steady.nowMs - before.nowMs;
    if (passed > GAP_MS && passed > this.steady.tickMs - before.tickMs) this.onGap(passed);
    return this.steady.nowMs;
  }

  /** How far the timers' clock is ahead of the wall clock. */
  get aheadMs(): number {
    return this.steady.nowMs - this.steady.wallMs;
  }

  /** What the wall clock shows, or would have shown, at a time of the timers'. */
  wallOf(ms: number): number {
    return ms - this.aheadMs;
  }
}
