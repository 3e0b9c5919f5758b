import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { courseAt } from '../../src/timer/course.ts';
import { momentsSince, untilNextMoment } from '../../src/timer/moments.ts';
import { FRESH, MIN, planOfMinutes, pressed, START } from './bench.ts';

/** What is said of a soak that is looked at every so many milliseconds, with when. */
function saidOf(minutes: number, everyMs: number, forMs: number): [string, number][] {
  const plan = planOfMinutes(minutes);
  const run = pressed(plan, [['on', 0]]);
  const said: [string, number][] = [];
  let told = -1;
  for (let ms = 0; ms <= forMs; ms += everyMs) {
    const course = courseAt(plan, run, START + ms);
    for (const { what } of momentsSince(plan, course, told)) said.push([what, ms]);
    told = course.elapsedMs;
  }
  return said;
}

describe('what is said of a soak', () => {
  it('half, the last minute, the end, and then less and less often', () => {
    expect(saidOf(5, 1000, 12 * MIN)).toEqual([
      ['half', 2.5 * MIN],
      ['minute', 4 * MIN],
      ['up', 5 * MIN],
      ['over', 6 * MIN],
      ['over', 7 * MIN],
      ['over', 8 * MIN],
      ['over', 10 * MIN],
    ]);
  });

  it('of a short one only the end', () => {
    expect(saidOf(0.5, 1000, MIN)).toEqual([['up', 0.5 * MIN]]);
  });

  it('after a sleep only the last', () => {
    expect(saidOf(5, 11 * MIN, 11 * MIN)).toEqual([['over', 11 * MIN]]);
  });

  it('nothing while it waits for the parts or is paused', () => {
    const plan = planOfMinutes(5);
    expect(momentsSince(plan, courseAt(plan, FRESH, START + 60 * MIN), -1)).toEqual([]);
    const paused = pressed(plan, [['on', 0], ['pause', MIN]]); // biome-ignore format: one line
    const course = courseAt(plan, paused, START + 60 * MIN);
    expect(momentsSince(plan, course, -1)).toEqual([]);
    expect(untilNextMoment(plan, course)).toBe(Number.POSITIVE_INFINITY);
  });

  it('law: waiting for the next moment each time misses none', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20 * 60 }), (seconds) => {
        const plan = planOfMinutes(seconds / 60);
        const run = pressed(plan, [['on', 0]]);
        let [ms, told] = [0, -1];
        const said: string[] = [];
        for (;;) {
          const course = courseAt(plan, run, START + ms);
          said.push(...momentsSince(plan, course, told).map(({ what }) => what));
          told = course.elapsedMs;
          const wait = untilNextMoment(plan, course);
          if (!Number.isFinite(wait)) break;
          ms += Math.ceil(wait);
        }
        expect(said.filter((what) => what === 'up')).toHaveLength(1);
        expect(said.filter((what) => what === 'half')).toHaveLength(seconds >= 60 ? 1 : 0);
        expect(said.filter((what) => what === 'over')).toHaveLength(10);
      }),
    );
  });
});
