/** The moments of a phase at which there is something to say or to ring for. */
import { type Course, MINUTE_MS } from './course.ts';
import type { Plan } from './plan.ts';

export interface Moment {
  what: 'half' | 'minute' | 'up' | 'over';
  /** Counted in the phase. */
  dueMs: number;
}

/** Parts that are still in the bath are rung for again after so many minutes; not for ever, as nobody may be there. Our choice. */
const OVER_MIN = [1, 2, 3, 5, 10, 15, 20, 30, 45, 60];
/** In a shorter soak the last minute is not announced: it would come with the half. */
const LAST_MINUTE_FROM_MS = 2.5 * MINUTE_MS;

/**
 * Those that a phase has come to since it stood at `toldMs`; where it slept through several of one kind, the last.
 *
 * @param toldMs - how much was counted when last told; -1 at its beginning
 */
export function momentsSince(plan: Plan, course: Course, toldMs: number): Moment[] {
  if (course.paused) return [];
  const due = momentsOf(plan, course).filter(({ dueMs }) => dueMs > toldMs && dueMs <= course.elapsedMs);
  const isPast = due.some(({ what }) => what === 'up' || what === 'over');
  const told = isPast ? due.filter(({ what }) => what === 'up' || what === 'over') : due;
  return told.slice(-1);
}

/** When the next one comes, in milliseconds from now; infinite where none does. */
export function untilNextMoment(plan: Plan, course: Course): number {
  if (course.paused) return Number.POSITIVE_INFINITY;
  const ahead = momentsOf(plan, course).map(({ dueMs }) => dueMs - course.elapsedMs);
  return Math.min(Number.POSITIVE_INFINITY, ...ahead.filter((ms) => ms > 0));
}

function momentsOf(plan: Plan, { phase, soak, targetMs }: Course): Moment[] {
  if (phase === 'dry') return [{ what: 'up', dueMs: targetMs }];
  if (phase !== 'soak') return [];
  const { plannedMs } = plan.soaks[soak]!;
  return [
    ...(plannedMs >= MINUTE_MS ? [{ what: 'half', dueMs: plannedMs / 2 } as const] : []),
    ...(targetMs >= LAST_MINUTE_FROM_MS ? [{ what: 'minute', dueMs: targetMs - MINUTE_MS } as const] : []),
    { what: 'up', dueMs: targetMs },
    ...OVER_MIN.map((minutes) => ({ what: 'over', dueMs: targetMs + minutes * MINUTE_MS }) as const),
  ];
}
