/** Where a guided wash stands, worked out anew from the keys that were pressed and when; so it can be taken up again, or one key taken back. */
import type { Plan } from './plan.ts';

/** A key that changed the course. */
export interface Mark {
  key: 'next' | 'pause' | 'go' | 'more' | 'less';
  atMs: number;
}

/** A guided wash so far: all there is to keep of it. */
export interface Run {
  startedMs: number;
  marks: readonly Mark[];
}

/** `before`: the parts are not in the bath yet. */
type Phase = 'before' | 'soak' | 'dry' | 'end';

export interface Course {
  phase: Phase;
  /** Which soak of the plan; those before it are over. */
  soak: number;
  /** Counted in this phase; while the parts are lifted out nothing counts. */
  elapsedMs: number;
  /** Of this phase; 0 where it waits for a person. */
  targetMs: number;
  paused: boolean;
  /** When this phase began. */
  sinceMs: number;
  /** What each soak that is over took. */
  soakedMs: readonly number[];
  /** When the parts were lifted out for a pause that still goes on. */
  liftedMs?: number;
  /** When the parts came out of the last bath that they were in. */
  outMs?: number;
}

export const MINUTE_MS = 60_000;

/** Times that run backwards are taken as the latest before them. */
export function courseAt(plan: Plan, run: Run, nowMs: number): Course {
  let lastMs = run.startedMs;
  let course = entered(plan, { soak: 0, phase: 'before' }, lastMs, []);
  const count = (atMs: number) => {
    const passed = Math.max(0, atMs - lastMs);
    lastMs += passed;
    return course.paused ? course : { ...course, elapsedMs: course.elapsedMs + passed };
  };
  for (const { key, atMs } of run.marks) {
    course = count(atMs);
    course = marked(plan, course, key, lastMs);
  }
  return count(nowMs);
}

function marked(plan: Plan, course: Course, key: Mark['key'], atMs: number): Course {
  const { elapsedMs, targetMs } = course;
  switch (key) {
    case 'next':
      return onward(plan, course, atMs);
    case 'pause':
      return { ...course, paused: true, liftedMs: atMs };
    case 'go': {
      const { liftedMs: _, ...rest } = course;
      return { ...rest, paused: false };
    }
    case 'more':
      return { ...course, targetMs: Math.max(targetMs, elapsedMs) + MINUTE_MS };
    case 'less':
      return { ...course, targetMs: targetMs - MINUTE_MS };
    default:
      return key satisfies never;
  }
}

function onward(plan: Plan, course: Course, atMs: number): Course {
  const { phase, soak, soakedMs } = course;
  if (phase === 'before')
    return { ...entered(plan, { phase: 'soak', soak }, atMs, soakedMs), ...out(course) };
  if (phase !== 'soak') return { ...entered(plan, { phase: 'end', soak }, atMs, soakedMs), ...out(course) };
  const next = soak + 1;
  const phaseNext = next < plan.soaks.length ? 'before' : 'dry';
  const done = [...soakedMs, course.elapsedMs];
  return { ...entered(plan, { phase: phaseNext, soak: next }, atMs, done), outMs: course.liftedMs ?? atMs };
}

function out({ outMs }: Course): { outMs?: number } {
  return outMs === undefined ? {} : { outMs };
}

function entered(
  plan: Plan,
  { phase, soak }: Pick<Course, 'phase' | 'soak'>,
  sinceMs: number,
  soakedMs: readonly number[],
): Course {
  const targetMs = phase === 'soak' ? plan.soaks[soak]!.plannedMs : phase === 'dry' ? plan.dryMs : 0;
  return { phase, soak, elapsedMs: 0, targetMs, paused: false, sinceMs, soakedMs };
}

/** Whether the time of this phase is up. */
export function isUp({ targetMs, elapsedMs, phase }: Course): boolean {
  return (phase === 'soak' || phase === 'dry') && elapsedMs >= targetMs;
}

/** Minutes in each bath so far, the soak that is still going on among them. */
export function soakedMinutes(course: Course): number[] {
  const going = course.phase === 'soak' ? [course.elapsedMs] : [];
  return [...course.soakedMs, ...going].map((ms) => asLogged(ms / MINUTE_MS));
}

/** A tenth of a minute, as nobody lifts a basket faster; below a minute, a hundredth. */
function asLogged(minutes: number): number {
  return Number(minutes.toFixed(minutes < 1 ? 2 : 1));
}
