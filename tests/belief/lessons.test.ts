import { describe, expect, it } from 'vitest';
import type { Compared } from '../../src/belief/belief.ts';
import type { Axis } from '../../src/belief/factors.ts';
import { Lessons } from '../../src/belief/lessons.ts';

const CARRY: Axis = { name: 'carry', priorSd: 0.45 };
const DIRTY_AIR: Axis = { name: 'evaporation', tub: 0, priorSd: 0.7 };
const CLEAN_AIR: Axis = { name: 'evaporation', tub: 1, priorSd: 0.7 };
const AXES = [CARRY, DIRTY_AIR, CLEAN_AIR];

const compared = (id: string, atMs: number, more: Partial<Compared> = {}): Compared =>
  ({ entry: { event: { id }, atMs }, taught: [], flagged: false, misfit: 1, ...more }) as unknown as Compared;

describe('what the readings came to', () => {
  it('is nothing before the first', () => {
    const { all } = new Lessons(AXES);
    expect(all).toEqual({
      readings: 0,
      taught: 0,
      taughtBy: [0, 0, 0],
      flagged: 0,
      lastFlagged: [],
      doubted: [],
      latestMs: 0,
    });
  });

  it('is counted: readings, those that taught, and what each factor was taught by', () => {
    const lessons = new Lessons(AXES);
    lessons.note(compared('a', 10, { taught: [CARRY] }));
    lessons.note(compared('b', 20));
    lessons.note(compared('c', 30, { taught: [CARRY, CLEAN_AIR] }));
    lessons.note(compared('d', 40, { taught: [CLEAN_AIR] }));
    lessons.note(compared('e', 50, { taught: [CLEAN_AIR, DIRTY_AIR] }));
    expect(lessons.all).toMatchObject({ readings: 5, taught: 4, taughtBy: [2, 1, 3], flagged: 0 });
    // Of the two tubs, the one taught most: three times.
    expect([lessons.taughtOf('carry'), lessons.taughtOf('evaporation'), lessons.taughtOf('drag')]).toEqual([
      2, 3, 0,
    ]);
  });

  it('has the time of the latest, in whatever order they are compared: a weighed load is, at its wash', () => {
    const lessons = new Lessons(AXES);
    for (const atMs of [30, 90, 60]) lessons.note(compared('a', atMs));
    expect(lessons.all.latestMs).toBe(90);
  });

  it('counts those too far off and names the last three, the latest last', () => {
    const lessons = new Lessons(AXES);
    const flags = [3.5, 4, 5, 6];
    flags.forEach((misfit, nth) => {
      lessons.note(compared(`w${nth}`, nth, { flagged: true, misfit }));
      lessons.note(compared(`r${nth}`, nth));
    });
    expect(lessons.all).toMatchObject({ readings: 8, flagged: 4 });
    expect(lessons.all.lastFlagged).toEqual([
      { id: 'w1', misfit: 4 },
      { id: 'w2', misfit: 5 },
      { id: 'w3', misfit: 6 },
    ]);
    // Three are kept as three, not as two.
    const three = new Lessons(AXES);
    for (const id of ['a', 'b', 'c']) three.note(compared(id, 1, { flagged: true, misfit: 4 }));
    expect(three.all.lastFlagged.map(({ id }) => id)).toEqual(['a', 'b', 'c']);
  });

  it('knows the baths whose last reading was too far off', () => {
    const lessons = new Lessons(AXES);
    const far = { flagged: true, misfit: 4 };
    lessons.note(compared('a', 10, { bath: 0, ...far }));
    lessons.note(compared('b', 20, { bath: 1, ...far }));
    lessons.note(compared('w', 30, far));
    expect(lessons.all.doubted).toEqual([
      { bath: 0, id: 'a', atMs: 10, misfit: 4 },
      { bath: 1, id: 'b', atMs: 20, misfit: 4 },
    ]);
    // One that fits settles its own bath; another that does not takes the place of the one before.
    lessons.note(compared('c', 40, { bath: 0 }));
    lessons.note(compared('d', 50, { bath: 1, flagged: true, misfit: 5 }));
    expect(lessons.all.doubted).toEqual([{ bath: 1, id: 'd', atMs: 50, misfit: 5 }]);
  });

  it('goes on from where another came to', () => {
    const first = new Lessons(AXES);
    first.note(compared('a', 10, { taught: [CARRY], flagged: true, misfit: 4 }));
    const second = new Lessons(AXES, structuredClone(first.all));
    for (const lessons of [first, second]) lessons.note(compared('b', 20, { taught: [CARRY] }));
    expect(second.all).toEqual(first.all);
    expect(second.all).toMatchObject({ readings: 2, taughtBy: [2, 0, 0], flagged: 1 });
  });
});
