/** Plans and keys that tests of guided washes share. */
import fc from 'fast-check';
import { courseAt, MINUTE_MS, type Run } from '../../src/timer/course.ts';
import type { Plan } from '../../src/timer/plan.ts';
import { type Key, press } from '../../src/timer/press.ts';

export const MIN = MINUTE_MS;
export const START = Date.UTC(2026, 10, 20, 10);
export const FRESH: Run = { startedMs: START, marks: [] };

export function planOfMinutes(...minutes: number[]): Plan {
  const names = ['dirty', 'clean', 'third'];
  return {
    soaks: minutes.map((value, place) => ({
      bath: names[place]!,
      plannedMs: value * MIN,
      rinse: 'none' as const,
      depthMm: 85,
    })),
    dryMs: 30 * MIN,
  };
}

/** Presses keys so many milliseconds after one another; those that do nothing are left out. */
export function pressed(plan: Plan, keys: readonly (readonly [Key, number])[], from: Run = FRESH): Run {
  let nowMs = from.startedMs;
  let run = from;
  for (const [key, afterMs] of keys) {
    nowMs += afterMs;
    const done = press(plan, run, key, nowMs);
    if (typeof done !== 'string') run = done;
  }
  return run;
}

export const anyPlan = fc
  .array(fc.double({ min: 0, max: 20, noNaN: true }), { minLength: 1, maxLength: 3 })
  .map((minutes) => planOfMinutes(...minutes));

/** Keys, each with the time that passes before it. */
export const anyKeys = fc.array(
  fc.tuple(
    fc.constantFrom<Key>('on', 'next', 'pause', 'more', 'less', 'back'),
    fc.integer({ min: 0, max: 15 * MIN }),
  ),
  { maxLength: 30 },
);

export function lengthOf(keys: readonly (readonly [Key, number])[]): number {
  return keys.reduce((sum, [, afterMs]) => sum + afterMs, 0);
}

export { courseAt };
