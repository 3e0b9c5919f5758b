import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { courseAt } from '../../src/timer/course.ts';
import { press } from '../../src/timer/press.ts';
import { anyKeys, anyPlan, FRESH, lengthOf, MIN, planOfMinutes, pressed, START } from './bench.ts';

const pair = planOfMinutes(5, 4);
const soaking = pressed(pair, [['on', 0]]);

describe('Enter', () => {
  it('takes nothing out before its time, and does after it', () => {
    expect(press(pair, soaking, 'on', START + 4.9 * MIN)).toBe('early');
    const out = press(pair, soaking, 'on', START + 5 * MIN);
    expect(out).toMatchObject({ marks: [{ key: 'next' }, { key: 'next', atMs: START + 5 * MIN }] });
  });

  it('ends a pause', () => {
    const paused = pressed(pair, [['pause', MIN]], { ...soaking });
    expect(press(pair, paused, 'on', START + 2 * MIN)).toMatchObject({ marks: { length: 3 } });
    expect(
      courseAt(pair, press(pair, paused, 'on', START + 2 * MIN) as never, START + 3 * MIN),
    ).toMatchObject({
      paused: false,
      elapsedMs: 2 * MIN,
    });
  });
});

describe('keys that do nothing say why', () => {
  it.each([
    ['pause', FRESH, 0, 'no-pause'],
    ['more', FRESH, 0, 'no-target'],
    ['less', FRESH, 0, 'no-target'],
    ['back', FRESH, 0, 'no-back'],
    ['less', soaking, 4.5 * MIN, 'no-less'],
    ['less', soaking, 9 * MIN, 'no-less'],
  ] as const)('%s', (key, run, atMs, why) => {
    expect(press(pair, run, key, START + atMs)).toBe(why);
  });

  it('no step back once it dries, since it is logged', () => {
    const drying = pressed(pair, [['next', 0], ['next', 0], ['next', 0], ['next', 0]]); // biome-ignore format: one line
    expect(courseAt(pair, drying, START).phase).toBe('dry');
    expect(press(pair, drying, 'back', START)).toBe('no-back');
  });
});

describe('a minute more', () => {
  it('is added to the time, or to now where the time is up', () => {
    const early = press(pair, soaking, 'more', START + MIN);
    expect(courseAt(pair, early as never, START + MIN).targetMs).toBe(6 * MIN);
    const late = press(pair, soaking, 'more', START + 7 * MIN);
    expect(courseAt(pair, late as never, START + 7 * MIN).targetMs).toBe(8 * MIN);
  });
});

describe('laws', () => {
  it('back after a step stands as if it had not been taken: time counts on', () => {
    fc.assert(
      fc.property(anyPlan, anyKeys, fc.nat(5 * MIN), (plan, keys, laterMs) => {
        const run = pressed(plan, keys);
        const nowMs = START + lengthOf(keys);
        const next = press(plan, run, 'next', nowMs) as typeof run;
        const { phase } = courseAt(plan, next, nowMs);
        const back = press(plan, next, 'back', nowMs + laterMs);
        if (phase === 'dry' || phase === 'end') expect(back).toBe('no-back');
        else expect(back).toEqual(run);
      }),
    );
  });

  it('next, pressed often enough, comes to the end of any plan', () => {
    fc.assert(
      fc.property(anyPlan, anyKeys, (plan, keys) => {
        const steps = Array.from({ length: 2 * plan.soaks.length + 1 }, () => ['next', 0] as const);
        const run = pressed(plan, [...keys, ...steps]);
        expect(courseAt(plan, run, START + lengthOf(keys)).phase).toBe('end');
      }),
    );
  });
});
