import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LedgerEvent, Written } from '../../src/ledger/event.ts';
import { type Settled, settle } from '../../src/ledger/settle.ts';

const DAY_MS = 86_400_000;
const START_MS = Date.parse('2026-11-01T12:00:00Z');
const CLOCK_MS = START_MS + 100 * DAY_MS;

/** An event on the given day, its id and other keys as given. */
function on(day: number, event: Record<string, unknown>): LedgerEvent {
  return { at: new Date(START_MS + day * DAY_MS).toISOString(), ...event } as unknown as LedgerEvent;
}

const fill = (id: string, day: number, ml = 1000): LedgerEvent =>
  on(day, { id, what: 'fill', bath: 'dirty', solvent: 'ipa99', ml });
const voids = (id: string, day: number, of: string): LedgerEvent =>
  on(day, { id, what: 'void', of, why: 'test' });
const amends = (id: string, day: number, of: string, set: object): LedgerEvent =>
  on(day, { id, what: 'amend', of, set, why: 'test' });

function settled(events: LedgerEvent[], clockMs = CLOCK_MS): Promise<Settled> {
  const written = events.map(
    (event, place): Written => ({ event, atMs: Date.parse(event.at), line: place + 10, place }),
  );
  return settle(written, clockMs);
}

const idsOf = ({ entries }: Settled): string[] => entries.map(({ event }) => event.id);
const codesOf = ({ problems }: Settled): string[] => problems.map(({ code, line }) => `${code}@${line}`);
const mlOf = ({ entries }: Settled, id: string): unknown =>
  (entries.find(({ event }) => event.id === id)?.event as { ml?: number } | undefined)?.ml;

describe('order', () => {
  it('is by time, then by place in the file', async () => {
    expect(idsOf(await settled([fill('c', 3), fill('a', 1), fill('b1', 2), fill('b2', 2)]))).toEqual([
      'a',
      'b1',
      'b2',
      'c',
    ]);
  });

  it('takes the clock into account', async () => {
    const events = [fill('a', 1), fill('b', 2), fill('c', 3)];
    expect(await settled(events, START_MS + 2 * DAY_MS)).toMatchObject({
      later: 1,
      entries: [{ event: { id: 'a' } }, { event: { id: 'b' } }],
    });
  });
});

describe('void', () => {
  it('takes an event out, wherever it stands and whenever it was typed', async () => {
    const result = await settled([voids('v', 1, 'a'), fill('a', 5), fill('b', 6)]);
    expect(idsOf(result)).toEqual(['b']);
    expect([...result.voided]).toEqual([['a', 'v']]);
  });

  it('does not count before its time', async () => {
    const result = await settled([fill('a', 1), voids('v', 3, 'a')], START_MS + 2 * DAY_MS);
    expect(idsOf(result)).toEqual(['a']);
    expect(result.later).toBe(1);
  });

  it('of a void restores the event, and so on', async () => {
    const events = [fill('a', 1), voids('v', 2, 'a'), voids('w', 3, 'v')];
    expect(idsOf(await settled(events))).toEqual(['a']);
    expect(idsOf(await settled([...events, voids('x', 4, 'w')]))).toEqual([]);
  });

  it('of an amend undoes it', async () => {
    const result = await settled([fill('a', 1), amends('m', 2, 'a', { ml: 5 }), voids('v', 3, 'm')]);
    expect(mlOf(result, 'a')).toBe(1000);
    expect([...result.voided]).toEqual([['m', 'v']]);
  });

  it('names the first that counts when there are several', async () => {
    expect([
      ...(await settled([fill('a', 1), voids('late', 3, 'a'), voids('early', 2, 'a')])).voided,
    ]).toEqual([['a', 'early']]);
    const first = await settled([fill('a', 1), voids('v', 2, 'a'), voids('w', 3, 'a'), voids('x', 4, 'v')]);
    expect(first.voided.get('a')).toBe('w');
  });

  it('of a long chain is worked out without running out of stack', async () => {
    const chain = Array.from({ length: 20_001 }, (_, n) => voids(`v${n}`, 2, n === 0 ? 'a' : `v${n - 1}`));
    expect(idsOf(await settled([fill('a', 1), ...chain]))).toEqual([]);
  });
});

describe('amend', () => {
  it('puts whole values in the place of keys and leaves the rest', async () => {
    const wash = on(1, { id: 'a', what: 'wash', parts: { model: 40, mask: 1 }, drained_min: 10 });
    const [entry] = (await settled([wash, amends('m', 2, 'a', { parts: { model: 4 } })])).entries;
    expect(entry).toMatchObject({ place: 0, line: 10, amendedBy: ['m'] });
    expect(entry!.event).toEqual({ ...wash, parts: { model: 4 } });
  });

  it('applies in the order of its own time, then of its place', async () => {
    const events = [fill('a', 1), amends('late', 5, 'a', { ml: 3 }), amends('early', 4, 'a', { ml: 2 })];
    expect((await settled(events)).entries[0]).toMatchObject({
      event: { ml: 3 },
      amendedBy: ['early', 'late'],
    });
    expect(
      mlOf(
        await settled([fill('a', 1), amends('x', 4, 'a', { ml: 2 }), amends('y', 4, 'a', { ml: 3 })]),
        'a',
      ),
    ).toBe(3);
  });

  it('may move an event in time and keeps its place in the file', async () => {
    const result = await settled([fill('a', 1), fill('b', 2), amends('m', 3, 'a', { at: fill('', 2).at })]);
    expect(result.entries.map(({ event, place }) => [event.id, place])).toEqual([
      ['a', 0],
      ['b', 1],
    ]);
    const moved = await settled([fill('a', 1), fill('b', 2), amends('m', 3, 'a', { at: fill('', 2.5).at })]);
    expect(idsOf(moved)).toEqual(['b', 'a']);
    expect(moved.entries[1]!.atMs).toBe(START_MS + 2.5 * DAY_MS);
  });

  it('may move an event behind the clock, or before it', async () => {
    const clock = START_MS + 10 * DAY_MS;
    expect(await settled([fill('a', 1), amends('m', 2, 'a', { at: fill('', 20).at })], clock)).toMatchObject({
      entries: [],
      later: 1,
    });
    expect(idsOf(await settled([fill('a', 20), amends('m', 2, 'a', { at: fill('', 1).at })], clock))).toEqual(
      ['a'],
    );
  });

  it('of an amend changes what it sets', async () => {
    const result = await settled([
      fill('a', 1),
      amends('m', 2, 'a', { ml: 5 }),
      amends('n', 3, 'm', { set: { ml: 7 } }),
    ]);
    expect(mlOf(result, 'a')).toBe(7);
  });

  it('of a void may move it behind the clock', async () => {
    const events = [fill('a', 1), voids('v', 2, 'a'), amends('m', 3, 'v', { at: fill('', 50).at })];
    expect(idsOf(await settled(events, START_MS + 10 * DAY_MS))).toEqual(['a']);
    expect(idsOf(await settled(events))).toEqual([]);
  });

  it('must leave a sound event', async () => {
    const result = await settled([
      fill('a', 1),
      amends('m', 2, 'a', { ml: -5 }),
      amends('n', 3, 'a', { ml: 6 }),
    ]);
    expect(codesOf(result)).toEqual(['amend-breaks-event@11']);
    expect(mlOf(result, 'a')).toBe(6);
    expect(codesOf(await settled([fill('a', 1), amends('m', 2, 'a', { colour: 'red' })]))).toEqual([
      'amend-breaks-event@11',
    ]);
    expect(
      codesOf(await settled([fill('a', 1), amends('m', 2, 'a', { at: '2026-02-30T00:00:00Z' })])),
    ).toEqual(['amend-breaks-event@11']);
  });
});

describe('problems', () => {
  it('name a correction of an event that is not there', async () => {
    const result = await settled([fill('abcd', 1), voids('v', 2, 'abce')]);
    expect(codesOf(result)).toEqual(['unknown-id@11']);
    expect(result.problems[0]!.help).toBe('Did you mean "abcd"?');
  });

  it('are errors all, and guess what was meant for the first twenty', async () => {
    const lost = Array.from({ length: 22 }, (_, nth) => voids(`v${nth}`, 2, 'abce'));
    const { problems } = await settled([
      fill('abcd', 1),
      ...lost,
      amends('m', 3, 'abcd', { ml: -5 }),
      voids('x', 2, 'y'),
      voids('y', 2, 'x'),
    ]);
    const helps = problems.filter(({ code }) => code === 'unknown-id').map(({ help }) => help);
    expect(helps.length).toBe(22);
    expect(helps.slice(0, 20).every((help) => help === 'Did you mean "abcd"?')).toBe(true);
    expect(helps.slice(20).every((help) => help?.includes('bathbook entries'))).toBe(true);
    expect(new Set(problems.map(({ code }) => code)).size).toBe(3);
    expect(problems.every(({ severity }) => severity === 'error')).toBe(true);
    expect(problems.find(({ code }) => code === 'amend-breaks-event')!.message).toMatch(
      /^Cannot amend the fill "abcd" of line 10: cannot take ml: -5/,
    );
  });

  it('name each correction of a circle, and let none of it count', async () => {
    const result = await settled([fill('a', 1), voids('x', 2, 'y'), voids('y', 2, 'x'), voids('z', 2, 'z')]);
    expect(codesOf(result).sort()).toEqual([
      'correction-circle@11',
      'correction-circle@12',
      'correction-circle@13',
    ]);
    expect(idsOf(result)).toEqual(['a']);
    expect(result.voided.size).toBe(0);
  });

  it('name a weighed load or an inspection without its wash', async () => {
    const wash = on(1, { id: 'w', what: 'wash', area_cm2: 5 });
    const weighed = (id: string, of: string): LedgerEvent =>
      on(2, { id, what: 'weighed', wash: of, wet_g: 5, clean_g: 4 });
    expect(codesOf(await settled([wash, weighed('a', 'w')]))).toEqual([]);
    expect(codesOf(await settled([wash, weighed('a', 'x'), weighed('b', 'a')]))).toEqual([
      'unknown-id@11',
      'unknown-id@12',
    ]);
  });
});

/**
 * The rule read straight from the format's last paragraph, one event at a time and by recursion: an event counts when no
 * counting void names it; a correction counts from its own time on.
 */
function byTheBook(events: LedgerEvent[], clockMs: number): [string, number][] {
  const naming = (id: string): LedgerEvent[] => events.filter((event) => 'of' in event && event.of === id);
  const now = (event: LedgerEvent): LedgerEvent | null => {
    const counting = naming(event.id)
      .map((correction) => ({ as: now(correction), place: events.indexOf(correction) }))
      .filter(
        (one): one is { as: LedgerEvent; place: number } =>
          one.as !== null && Date.parse(one.as.at) <= clockMs,
      )
      .sort((a, b) => Date.parse(a.as.at) - Date.parse(b.as.at) || a.place - b.place);
    if (counting.some(({ as }) => as.what === 'void')) {
      return null;
    }
    const made = { ...event };
    for (const { as } of counting) {
      Object.assign(made, (as as { set: object }).set);
    }
    return made;
  };
  return events
    .map((event, place) => ({ as: now(event), place }))
    .filter(
      (one): one is { as: LedgerEvent; place: number } =>
        one.as !== null && one.as.what === 'fill' && Date.parse(one.as.at) <= clockMs,
    )
    .sort((a, b) => Date.parse(a.as.at) - Date.parse(b.as.at) || a.place - b.place)
    .map(({ as }) => [as.id, (as as { ml: number }).ml]);
}

describe('any set of corrections', () => {
  const step = fc.record({
    kind: fc.constantFrom('fill', 'void', 'amend', 'move'),
    day: fc.nat({ max: 9 }),
    of: fc.double({ min: 0, max: 1, noNaN: true }),
    ml: fc.integer({ min: 1, max: 99 }),
  });
  const events = fc
    .tuple(fc.array(step, { minLength: 1, maxLength: 12 }), fc.infiniteStream(fc.nat()))
    .map(([steps, shuffle]) => {
      const made: LedgerEvent[] = [];
      for (const [n, { kind, day, of, ml }] of steps.entries()) {
        const target = made[Math.floor(of * made.length)];
        const id = `e${n}`;
        if (kind === 'fill' || target === undefined) {
          made.push(fill(id, day, ml));
        } else if (kind === 'void') {
          made.push(voids(id, day, target.id));
        } else {
          const set =
            kind === 'move'
              ? { at: fill('', ml / 10).at }
              : target.what === 'fill'
                ? { ml }
                : { why: 'other' };
          made.push(amends(id, day, target.id, set));
        }
      }
      const keys = made.map(() => shuffle.next().value as number);
      return made
        .map((event, n) => ({ event, key: keys[n]! }))
        .sort((a, b) => a.key - b.key)
        .map(({ event }) => event);
    });

  it('settles as the rule says, read one event at a time', async () => {
    await fc.assert(
      fc.asyncProperty(events, fc.nat({ max: 12 }), async (list, day) => {
        const clock = START_MS + day * DAY_MS;
        const result = await settled(list, clock);
        expect(result.problems).toEqual([]);
        expect(result.entries.map(({ event }) => [event.id, (event as { ml?: number }).ml])).toEqual(
          byTheBook(list, clock),
        );
      }),
      { numRuns: 1000 },
    );
  });
});
