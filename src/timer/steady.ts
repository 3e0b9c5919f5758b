/** A clock for timers, which neither a computer that slept nor a clock that was set back leads astray. */

export interface Steady {
  wallMs: number;
  /** A clock that only goes forward; it may stand while the computer sleeps. */
  tickMs: number;
  /** What the timers go by: the wall clock as it was at the start, and what has passed since. */
  nowMs: number;
}

/** Clocks differ by less than this from one look to the next while nothing happens to them. */
const STEP_MS = 1000;

/**
 * The clock at another look.
 *
 * A wall clock that went further than the ticks means a computer that slept, while the parts stayed in the bath: the wall clock counts.
 * One that went less was set back: the ticks count.
 */
export function steadied(before: Steady, wallMs: number, tickMs: number): Steady {
  const ticked = Math.max(0, tickMs - before.tickMs);
  const walled = wallMs - before.wallMs;
  const passed = walled - ticked > STEP_MS ? walled : ticked;
  return { wallMs, tickMs, nowMs: before.nowMs + passed };
}
