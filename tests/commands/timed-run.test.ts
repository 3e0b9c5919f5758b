/** The timers of a guided wash on a bench whose time passes as the test has it. */
import { describe, expect, it } from 'vitest';
import type { Pressed } from '../../src/commands/timed-keys.ts';
import { type Ended, type TimerBench, Timers } from '../../src/commands/timed-run.ts';
import { soakedMinutes } from '../../src/timer/course.ts';
import type { Plan } from '../../src/timer/plan.ts';
import { courseAt, FRESH, MIN, planOfMinutes, START } from '../timer/bench.ts';

interface Heard {
  ended: Ended;
  /** With the second at which it was said. */
  said: [number, string][];
  rung: number[];
  drawn: string[];
  nowMs: number;
  minutes: number[];
}

/** Runs the timers with keys at given seconds after the start. */
async function timed(
  plan: Plan,
  keys: readonly (readonly [number, Pressed])[],
  { until = 'dry', ...given }: Partial<TimerBench> & { until?: 'dry' | 'end' } = {},
): Promise<Heard> {
  let nowMs = START;
  const left = [...keys];
  const heard = { said: [] as [number, string][], rung: [] as number[], drawn: [] as string[] };
  const second = () => Math.round((nowMs - START) / 1000);
  const bench: TimerBench = {
    nowMs: () => nowMs,
    timeOfDay: (ms) => new Date(ms).toISOString().slice(11, 16),
    key: async (withinMs) => {
      const [next] = left;
      const dueMs = next ? START + next[0] * 1000 : Number.POSITIVE_INFINITY;
      if (dueMs > nowMs + withinMs) {
        nowMs += withinMs;
        return undefined;
      }
      nowMs = Math.max(nowMs, dueMs);
      return left.shift()![1];
    },
    say: (text) => heard.said.push([second(), text]),
    draw: (line) => heard.drawn.push(line),
    ring: () => heard.rung.push(second()),
    keep: () => {},
    suspend: () => {},
    outOf: async () => nowMs,
    width: 59,
    onScreen: true,
    byClock: false,
    ...given,
  };
  const ended = await new Timers(plan, FRESH, bench).until(until);
  return { ...heard, ended, nowMs, minutes: soakedMinutes(courseAt(plan, ended.run, nowMs)) };
}

const pair = planOfMinutes(5, 4);

describe('a guided wash', () => {
  it('rings when the time is up, waits for the parts to come out, and gives the minutes it took', async () => {
    const { minutes, rung, ended } = await timed(pair, [
      [20, 'on'],
      [20 + 318, 'on'],
      [400, 'on'],
      [641, 'on'],
    ]);
    expect(ended.how).toBe('done');
    expect(minutes).toEqual([5.3, 4]);
    expect(rung).toEqual([320, 640]);
  });

  it('does not take parts out early for Enter, and says what is left', async () => {
    const { said, minutes } = await timed(pair, [
      [0, 'on'],
      [60, 'on'],
      [120, 'next'],
      [130, 'on'],
      [160, 'next'],
    ]);
    expect(said).toContainEqual([60, '4:00 left; n goes on before the time is up']);
    expect(minutes).toEqual([2, 0.5]);
  });

  it('a pause counts nothing and rings for nothing', async () => {
    const { minutes, rung } = await timed(pair, [
      [0, 'on'],
      [60, 'pause'],
      [660, 'on'],
      [901, 'on'],
      [901, 'next'],
      [901, 'next'],
    ]);
    expect(minutes[0]).toBe(5);
    expect(rung).toEqual([900]);
  });

  it('a step taken by mistake is taken back, and the time goes on', async () => {
    const { minutes } = await timed(pair, [
      [0, 'on'],
      [60, 'next'],
      [70, 'back'],
      [300, 'on'],
      [310, 'on'],
      [550, 'on'],
    ]);
    expect(minutes).toEqual([5, 4]);
  });

  it('stops where it is', async () => {
    for (const how of ['interrupt', 'stop', 'gone'] as const) {
      const { ended, minutes } = await timed(pair, [
        [0, 'on'],
        [90, how],
      ]);
      expect(ended.how).toBe(how);
      expect(minutes).toEqual([1.5]);
    }
  });

  it('turns the parts over halfway, once, only where the bath asks for it', async () => {
    const soaks = [
      { ...pair.soaks[0]!, turn: 'still' as const },
      { ...pair.soaks[1]!, turn: 'shallow' as const, depthMm: 41.6 },
    ];
    const { said, rung } = await timed({ ...pair, soaks }, [
      [0, 'on'],
      [301, 'on'],
      [301, 'on'],
      [542, 'on'],
    ]);
    const halves = said.filter(([, text]) => text.startsWith('Halfway'));
    expect(halves.map(([at]) => at)).toEqual([150, 421]);
    expect(halves[1]![1]).toContain('shallow (42 mm)');
    expect(rung).toEqual([150, 300, 421, 541]);
    const without = await timed(pair, [[0, 'on'], [400, 'stop']]); // biome-ignore format: one line
    expect(without.said.some(([, text]) => text.startsWith('Halfway'))).toBe(false);
  });

  it('rings again while the parts stay in', async () => {
    const { rung } = await timed(pair, [
      [0, 'on'],
      [300 + 11 * 60, 'stop'],
    ]);
    expect(rung).toEqual([300, 360, 420, 480, 600, 900]);
  });

  it('keeps every line within the screen', async () => {
    for (const width of [19, 39, 59, 199]) {
      const { drawn } = await timed(pair, [[5, 'on'], [30, 'pause'], [40, 'on'], [400, 'on'], [410, 'stop']], { width }); // biome-ignore format: one line
      expect(drawn.filter((line) => line.length > width)).toEqual([]);
      expect(drawn.length).toBeGreaterThan(300);
    }
  });

  it('draws a bar that only grows', async () => {
    const { drawn } = await timed(pair, [[0, 'on'], [300, 'stop']]); // biome-ignore format: one line
    const full = drawn.flatMap((line) => /^dirty {2}(=*)\.* {2}\d/.exec(line)?.[1]?.length ?? []);
    expect(full[0]).toBe(0);
    expect(full).toEqual(full.toSorted((one, other) => one - other));
    expect(Math.max(...full)).toBeGreaterThanOrEqual(29);
  });
});

describe('by the clock, with nobody at the keyboard', () => {
  it('each step follows when the one before is over, to the second', async () => {
    const { minutes, ended, nowMs, said } = await timed(pair, [], { byClock: true, onScreen: false });
    expect(ended.how).toBe('done');
    expect(minutes).toEqual([5, 4]);
    expect(nowMs - START).toBe(9 * MIN);
    expect(said.some(([, text]) => text.includes('Enter'))).toBe(false);
  });
});

describe('drying', () => {
  it('ends by itself, with a bell', async () => {
    const now = [[0, 'next'], [0, 'next'], [0, 'next'], [0, 'next']] as const; // biome-ignore format: one line
    const { ended, nowMs, rung, said } = await timed(pair, now, { until: 'end' });
    expect(ended.how).toBe('done');
    expect(nowMs - START).toBe(30 * MIN);
    expect(rung).toEqual([1800]);
    expect(said.at(-1)![1]).toContain('30 min of drying are over');
  });
});

describe('in lines, for those who hear the screen', () => {
  it('says each moment in a sentence', async () => {
    const { said } = await timed(planOfMinutes(5), [[0, 'on'], [330, 'on']], { onScreen: false }); // biome-ignore format: one line
    expect(said).toEqual([
      [0, 'Lay the parts in the dirty bath for 5 min; Enter when they are in'],
      [0, 'In the dirty bath for 5 min, until 10:05'],
      [150, 'Half the time in the dirty bath is over'],
      [240, 'One minute left in the dirty bath'],
      [300, 'Time is up. Take the parts out of the dirty bath, then Enter'],
      [330, 'Out of the dirty bath after 5.5 min'],
    ]);
  });
});
