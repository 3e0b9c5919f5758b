/** What a key does to a guided wash. */
import { type Course, courseAt, isUp, type Mark, MINUTE_MS, type Run } from './course.ts';
import type { Plan } from './plan.ts';

/** `on` does what comes next and takes nothing short; `next` goes on whatever the timer says. */
export type Key = 'on' | 'next' | 'pause' | 'more' | 'less' | 'back';

/** Why a key did nothing. */
export type Refusal = 'early' | 'no-pause' | 'no-less' | 'no-target' | 'no-back';

/** @returns the wash with the key, or why it does nothing */
export function press(plan: Plan, run: Run, key: Key, nowMs: number): Run | Refusal {
  const course = courseAt(plan, run, nowMs);
  if (key === 'back') return back(run, course);
  const mark = markOf(course, key);
  if (mark === 'early' || mark.startsWith('no-')) return mark as Refusal;
  return { ...run, marks: [...run.marks, { key: mark as Mark['key'], atMs: nowMs }] };
}

function markOf(course: Course, key: Exclude<Key, 'back'>): Mark['key'] | Refusal {
  const { phase, paused, targetMs, elapsedMs } = course;
  switch (key) {
    case 'on':
      if (paused) return 'go';
      return phase === 'before' || isUp(course) ? 'next' : 'early';
    case 'next':
      return 'next';
    case 'pause':
      if (phase !== 'soak') return 'no-pause';
      return paused ? 'go' : 'pause';
    case 'more':
      return phase === 'before' ? 'no-target' : 'more';
    case 'less':
      if (phase === 'before') return 'no-target';
      return targetMs - MINUTE_MS > elapsedMs ? 'less' : 'no-less';
    default:
      return key satisfies never;
  }
}

/** As if the last step had not been taken: time counts on in the phase before. What is drying is logged already. */
function back(run: Run, { phase }: Course): Run | Refusal {
  const place = run.marks.findLastIndex(({ key }) => key === 'next');
  if (place === -1 || phase === 'dry' || phase === 'end') return 'no-back';
  return { ...run, marks: run.marks.slice(0, place) };
}
