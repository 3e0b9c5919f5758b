/**
 * Lines of two people in one ledger: in whatever order a merge leaves them, the same events count; joined by what they say, none is there
 * twice; and a merge that was not finished is told at its first mark.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { join } from '../../src/exchange/join.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { writeLine } from '../../src/ledger/line.ts';
import { knownNames } from '../../src/ledger/names.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { settle } from '../../src/ledger/settle.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { bytesOf, FILL, HEAD } from './sample.ts';

const CLOCK_MS = Date.parse('2027-01-01T00:00:00Z');
const START_MS = Date.parse('2026-11-03T08:00:00Z');

/** Where an event comes from, and which of those before it a correction is about. */
interface Drawn {
  of: 'both' | 'one' | 'other';
  what: 'wash' | 'inspect' | 'void' | 'amend';
  about: number;
  models: number;
}

const drawn = fc.array(
  fc.record({
    of: fc.constantFrom<Drawn['of']>('both', 'one', 'other'),
    what: fc.constantFrom<Drawn['what']>('wash', 'wash', 'wash', 'inspect', 'void', 'amend'),
    about: fc.nat({ max: 99 }),
    models: fc.integer({ min: 1, max: 9 }),
  }),
  { minLength: 2, maxLength: 14 },
);

/** The events in order of time, a minute between them. A correction names an event that its writer had seen. */
function eventsOf(list: readonly Drawn[]): { of: Drawn['of']; event: LedgerEvent }[] {
  const made: { of: Drawn['of']; event: LedgerEvent }[] = [];
  for (const [nth, { of, what, about, models }] of list.entries()) {
    const seen = made.filter((one) => one.of === 'both' || one.of === of);
    const head = { id: `e${nth}`, at: new Date(START_MS + nth * 60_000).toISOString() };
    const washes = seen.filter(({ event }) => event.what === 'wash');
    const target = (what === 'void' ? seen : washes)[
      about % Math.max(1, what === 'void' ? seen.length : washes.length)
    ];
    made.push({ of, event: eventOf(head, { what, models, target: target?.event.id }) });
  }
  return made;
}

function eventOf(
  head: { id: string; at: string },
  { what, models, target }: { what: Drawn['what']; models: number; target: string | undefined },
): LedgerEvent {
  if (what === 'void' && target !== undefined) return { ...head, what, of: target, why: 'entered twice' };
  if (what === 'amend' && target !== undefined)
    return { ...head, what, of: target, set: { parts: { model: models } }, why: 'counted again' };
  if (what === 'inspect')
    return { ...head, what, result: 'ok', ...(target === undefined ? {} : { wash: target }) };
  return { ...head, what: 'wash', parts: { model: models } };
}

async function read(events: readonly LedgerEvent[]) {
  const text = `${HEAD}events:\n${FILL}${events.map((event) => `${writeLine(event)}\n`).join('')}`;
  const file = await readLedger(bytesOf(text), catalogue);
  expect(file.problems).toEqual([]);
  return file;
}

async function counting(events: readonly LedgerEvent[]): Promise<unknown> {
  const file = await read(events);
  const { entries, voided, problems } = await settle(file.events, CLOCK_MS, file.header, catalogue);
  const kept = entries.map(({ event, amendedBy }) => ({ event, amendedBy }));
  return { kept, voided: [...voided].sort(), problems };
}

/** What one person has, in the order of the file: what both had, then the own. */
function copyOf(all: ReturnType<typeof eventsOf>, ...own: Drawn['of'][]): LedgerEvent[] {
  return own.flatMap((of) => all.filter((one) => one.of === of).map(({ event }) => event));
}

describe('the lines of two branches', () => {
  it('count the same in whatever order they stand', async () => {
    let corrected = 0;
    await fc.assert(
      fc.asyncProperty(drawn, async (list) => {
        const all = eventsOf(list);
        const inOrder = await counting(all.map(({ event }) => event));
        corrected += (inOrder as { voided: unknown[] }).voided.length;
        expect(await counting(copyOf(all, 'both', 'one', 'other'))).toEqual(inOrder);
        expect(await counting(copyOf(all, 'both', 'other', 'one'))).toEqual(inOrder);
        expect(await counting(copyOf(all, 'other', 'one', 'both'))).toEqual(inOrder);
      }),
      { numRuns: 150 },
    );
    expect(corrected).toBeGreaterThan(20);
  });

  it('joined by what they say are there once, whichever copy takes the other in, and again', async () => {
    const taken = async (mine: LedgerEvent[], theirs: LedgerEvent[]) => {
      const { events, header } = await read(mine);
      const known = knownNames(header!, catalogue);
      const ledger = { events, known, clockMs: CLOCK_MS, time: (ms: number) => new Date(ms).toISOString() };
      const rows = theirs.map((event, nth) => ({ line: nth + 1, event: { ...event }, timed: true }));
      const { fresh, present, rejected } = await join(rows, ledger);
      expect(rejected).toEqual([]);
      expect(fresh.length + present.length).toBe(theirs.length);
      return [...mine, ...fresh.map(({ event }) => event)];
    };
    await fc.assert(
      fc.asyncProperty(drawn, async (list) => {
        const all = eventsOf(list);
        const [mine, theirs] = [copyOf(all, 'both', 'one'), copyOf(all, 'both', 'other')];
        const joined = await taken(mine, theirs);
        const other = await taken(theirs, mine);
        expect(joined.map(({ id }) => id).sort()).toEqual(all.map(({ event }) => event.id).sort());
        expect(await counting(joined)).toEqual(await counting(other));
        expect(await taken(joined, theirs)).toEqual(joined);
        expect(await taken(joined, other)).toEqual(joined);
      }),
      { numRuns: 100 },
    );
  });
});

describe('a merge that was not finished', () => {
  const lines = `${HEAD}events:\n${FILL}${FILL.replace('k3f9', 'k3fa').replace('dirty', 'clean')}`
    .trimEnd()
    .split('\n');
  const MARKS = {
    merge: ['<<<<<<< HEAD', '=======', '>>>>>>> other'],
    diff3: ['<<<<<<< HEAD', '||||||| 0a1b2c3', '=======', '>>>>>>> other'],
    bare: ['<<<<<<<', '=======', '>>>>>>>'],
    'one mark left': ['======='],
    'the other mark left': ['>>>>>>> other'],
  };

  it.each(Object.entries(MARKS))('is told at its first mark, wherever it stands: %s', async (_, marks) => {
    for (const newline of ['\n', '\r\n']) {
      for (let at = 0; at <= lines.length; at++) {
        const text = [...lines.slice(0, at), ...marks, ...lines.slice(at)].join(newline) + newline;
        const { problems, events } = await readLedger(bytesOf(text), catalogue);
        expect(problems, text).toHaveLength(1);
        expect(problems[0]).toMatchObject({ code: 'conflict-marker', line: at + 1, column: 1 });
        const eventLines = lines.filter((line) => line.startsWith('  - '));
        expect(events.map(({ event }) => writeLine(event))).toEqual(eventLines);
      }
    }
  });

  it('is told once where it reaches from the head into the events', async () => {
    const side = [...lines.slice(-3)];
    const text = [...lines.slice(0, -3), '<<<<<<< HEAD', ...side, '=======', ...side, '>>>>>>> other'].join(
      '\n',
    );
    const { problems } = await readLedger(bytesOf(`${text}\n`), catalogue);
    expect(problems[0]).toMatchObject({ code: 'conflict-marker', line: lines.length - 2 });
    expect(problems.filter(({ code }) => code === 'conflict-marker')).toHaveLength(1);
  });

  it('is no matter of remarks and texts', async () => {
    const text = `${lines.join('\n')}\n  # ======= a rule\n${FILL.replace('k3f9', 'k3fb').replace('"NB"', '"NB", note: "======= <<<<<<<"')}`;
    expect((await readLedger(bytesOf(text), catalogue)).problems).toEqual([]);
  });
});
