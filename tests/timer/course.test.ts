import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { courseAt, isUp, soakedMinutes } from '../../src/timer/course.ts';
import { press } from '../../src/timer/press.ts';
import { anyKeys, anyPlan, FRESH, lengthOf, MIN, planOfMinutes, pressed, START } from './bench.ts';

const pair = planOfMinutes(5, 4);

describe('a wash as it usually goes', () => {
  const run = pressed(pair, [
    ['on', 20_000],
    ['on', 5.3 * MIN],
    ['on', 40_000],
    ['on', 4 * MIN],
  ]);

  it('counts what each soak took, from key to key, and not what lay between', () => {
    const course = courseAt(pair, run, START + 20 * MIN);
    expect(course.phase).toBe('dry');
    expect(soakedMinutes(course)).toEqual([5.3, 4]);
    expect(course.outMs).toBe(START + 20_000 + 5.3 * MIN + 40_000 + 4 * MIN);
  });

  it('a soak that is over counts on until the parts are out', () => {
    const course = courseAt(pair, pressed(pair, [['on', 0]]), START + 12 * MIN);
    expect(course).toMatchObject({ phase: 'soak', elapsedMs: 12 * MIN, targetMs: 5 * MIN });
    expect(isUp(course)).toBe(true);
    expect(soakedMinutes(course)).toEqual([12]);
  });

  it('begins with nothing soaked, and out of no bath', () => {
    const course = courseAt(pair, FRESH, START + MIN);
    expect(course).toMatchObject({ phase: 'before', soak: 0 });
    expect(soakedMinutes(course)).toEqual([]);
    expect(course.outMs).toBeUndefined();
  });
});

describe('a pause', () => {
  it('does not count, and parts that are not put back came out when it began', () => {
    const run = pressed(pair, [
      ['on', 0],
      ['pause', 2 * MIN],
      ['pause', 3 * MIN],
      ['pause', MIN],
      ['next', 4 * MIN],
    ]);
    const course = courseAt(pair, run, START + 11 * MIN);
    expect(soakedMinutes(course)).toEqual([3]);
    expect(course.outMs).toBe(START + 6 * MIN);
  });
});

describe('laws of any keys at any time', () => {
  it('soaks, pauses and what lies between are together the time that passed', () => {
    fc.assert(
      fc.property(anyPlan, anyKeys, (plan, keys) => {
        // An account kept key by key, beside the one that is worked out anew from all of them.
        let run = FRESH;
        let nowMs = START;
        const spent = { counted: 0, paused: 0 };
        for (const [key, afterMs] of keys) {
          const { paused } = courseAt(plan, run, nowMs);
          const before = total(courseAt(plan, run, nowMs));
          nowMs += afterMs;
          const after = total(courseAt(plan, run, nowMs));
          spent[paused ? 'paused' : 'counted'] += afterMs;
          expect(after - before).toBe(paused || isWaiting(courseAt(plan, run, nowMs)) ? 0 : afterMs);
          const done = press(plan, run, key, nowMs);
          if (typeof done !== 'string') run = done;
        }
        expect(spent.counted + spent.paused).toBe(lengthOf(keys));
        const { soakedMs } = courseAt(plan, run, nowMs);
        expect(soakedMs.every((ms) => ms >= 0)).toBe(true);
        expect(soakedMs.reduce((sum, ms) => sum + ms, 0)).toBeLessThanOrEqual(nowMs - START);
      }),
    );
  });

  const total = (course: ReturnType<typeof courseAt>) =>
    course.soakedMs.reduce((sum, ms) => sum + ms, 0) + (isWaiting(course) ? 0 : course.elapsedMs);
  const isWaiting = ({ phase }: ReturnType<typeof courseAt>) => phase === 'before';

  it('the same marks give the same course, whenever it was looked at before', () => {
    fc.assert(
      fc.property(anyPlan, anyKeys, fc.nat(60 * MIN), (plan, keys, laterMs) => {
        const run = pressed(plan, keys);
        const endMs = START + lengthOf(keys) + laterMs;
        const kept = JSON.parse(JSON.stringify(run));
        expect(courseAt(plan, kept, endMs)).toEqual(courseAt(plan, run, endMs));
      }),
    );
  });

  it('a clock that runs backwards makes no soak shorter than nothing', () => {
    const back = { startedMs: START, marks: [{ key: 'next', atMs: START - MIN }, { key: 'next', atMs: START - 2 * MIN }] as const }; // biome-ignore format: one line
    expect(soakedMinutes(courseAt(pair, back, START - 5 * MIN))).toEqual([0]);
  });
});
