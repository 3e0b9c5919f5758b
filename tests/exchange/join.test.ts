import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { contentId, contentOf, saySame } from '../../src/exchange/content.ts';
import { fitIn } from '../../src/exchange/fit.ts';
import { join } from '../../src/exchange/join.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { writeLine } from '../../src/ledger/line.ts';
import { knownNames } from '../../src/ledger/names.ts';
import { type LedgerFile, readLedger } from '../../src/ledger/read.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { bytesOf } from '../ledger/sample.ts';
import { at, defined, events, FILLED, HEAD } from './any-events.ts';

const CLOCK_MS = Date.parse('2026-12-31T12:00:00Z');
const time = (ms: number) => new Date(ms).toISOString().replace('.000Z', '+00:00');

function ledgerOf(list: readonly LedgerEvent[]): Promise<LedgerFile> {
  return readLedger(
    bytesOf(`${HEAD}events:\n${list.map((one) => `${writeLine(one)}\n`).join('')}`),
    catalogue,
  );
}

/** What importing these rows into that ledger makes of it. */
async function imported(into: readonly LedgerEvent[], rows: readonly object[]) {
  const file = await ledgerOf(into);
  const header = file.header!;
  const known = knownNames(header, catalogue);
  const read = rows.map((event, nth) => ({
    line: nth + 2,
    event: event as Record<string, unknown>,
    timed: true,
  }));
  const joined = await join(read, { events: file.events, known, clockMs: CLOCK_MS, time });
  const on = { events: file.events, header, catalogue, shop: openShop(header), clockMs: CLOCK_MS };
  const { fresh, rejected, breaks } = await fitIn(joined.fresh, on);
  return {
    ledger: [...into, ...fresh.map(({ event }) => event)],
    fresh: fresh.map(({ event }) => event),
    present: joined.present,
    rejected: [...joined.rejected, ...rejected],
    breaks,
  };
}

const withoutIds = (list: readonly LedgerEvent[]) => list.map(({ id: _, ...rest }) => rest);
const wash = (more: object = {}) =>
  defined({ id: 'w1', at: at(60), what: 'wash', parts: { model: 2 }, ...more });

describe('copies of one ledger, edited on two computers', () => {
  /** A common past, and what each added to it; ids clash as rarely as those that the program draws. */
  const copies = fc.tuple(events, events, events).map(([past, mine, theirs]) => {
    const taken = new Set<string>(FILLED.map(({ id }) => id));
    const own = (list: LedgerEvent[]) => {
      const kept = list.filter(
        (one) => !taken.has(one.id) && (!('of' in one) || list.some(({ id }) => id === one.of)),
      );
      const ids = new Set(kept.map(({ id }) => id));
      for (const id of ids) taken.add(id);
      return kept.filter((one) => !('of' in one) || ids.has(one.of));
    };
    const common = [...FILLED, ...own(past)];
    // One of them also takes back the last thing of the common past.
    const [last] = common
      .slice(FILLED.length)
      .filter((one) => !('of' in one))
      .slice(-1);
    const back = last
      ? [{ id: 'tback', at: at(95_000), what: 'void', of: last.id, why: 'x' } as LedgerEvent]
      : [];
    return [common, own(mine), [...own(theirs), ...back]] as const;
  });

  it('join by export and import, either way, without doubles and without loss', async () => {
    await fc.assert(
      fc.asyncProperty(copies, async ([past, mine, theirs]) => {
        const [a, b] = [
          [...past, ...mine],
          [...past, ...theirs],
        ];
        const ab = await imported(a, b);
        const ba = await imported(b, a);
        fc.pre(!ab.breaks && !ba.breaks && ab.rejected.length + ba.rejected.length === 0);
        const ids = (list: readonly LedgerEvent[]) => list.map(({ id }) => id).sort();
        const union = ids([...past, ...mine, ...theirs]);
        expect(ids(ab.ledger)).toEqual(union);
        expect(ids(ba.ledger)).toEqual(union);
        expect(ab.present.length).toBe(past.length);
        const again = await imported(ab.ledger, ba.ledger);
        expect([again.fresh, again.rejected]).toEqual([[], []]);
        expect(again.present.length).toBe(union.length);
      }),
      { numRuns: 80 },
    );
  });

  it('join without ids as well: what a file says is taken as often as it says it, once', async () => {
    await fc.assert(
      fc.asyncProperty(events, async (list) => {
        const rows = withoutIds(list.filter((one) => !('of' in one)));
        const once = await imported(FILLED, rows);
        fc.pre(!once.breaks && once.rejected.length === 0);
        expect(once.fresh.length).toBe(rows.length);
        const twice = await imported(once.ledger, rows);
        expect([twice.fresh, twice.present.length]).toEqual([[], rows.length]);
        // On another computer the same rows get the same ids.
        const there = await imported(FILLED, rows);
        expect((await imported(there.ledger, once.fresh)).fresh).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });
});

describe('an event of a file', () => {
  it('said twice at one moment is two events, as often as it is imported', async () => {
    const rows = withoutIds([wash(), wash()]);
    const { fresh, ledger } = await imported(FILLED, rows);
    expect(fresh.length).toBe(2);
    expect(new Set(fresh.map(({ id }) => id)).size).toBe(2);
    expect((await imported(ledger, rows)).present).toEqual([2, 3]);
    expect((await imported(ledger, [...rows, rows[0]!])).fresh.length).toBe(1);
  });

  it('without an id gets one, and "logged"; with one it is taken as it is', async () => {
    const [known] = (await imported(FILLED, [wash()])).fresh;
    expect(known).toEqual(wash());
    const [unknown] = (await imported(FILLED, withoutIds([wash()]))).fresh;
    expect(unknown).toMatchObject({
      at: at(60),
      logged: time(CLOCK_MS),
      id: expect.stringMatching(/^[2-9a-hjkmnp-z]{8}$/),
    });
  });

  it('is the same in another zone, order of keys and time of logging', async () => {
    const held = wash({ by: 'NB', cases: ['1'], logged: at(120) });
    const other = {
      cases: ['1'],
      parts: { model: 2 },
      what: 'wash',
      by: 'NB',
      id: 'w1',
      at: time(Date.parse(at(60))),
    };
    const { fresh, present } = await imported([...FILLED, held], [other]);
    expect([fresh, present]).toEqual([[], [2]]);
  });

  it('with the id of one that says something else is rejected, and what names it as well', async () => {
    const { rejected, fresh } = await imported(
      [...FILLED, wash()],
      [wash({ parts: { model: 3 } }), { id: 'v1', at: at(70), what: 'void', of: 'w1', why: 'x' }],
    );
    expect(fresh).toEqual([]);
    expect(rejected.map(({ line, code }) => [line, code])).toEqual([
      [2, 'other-event'],
      [3, 'names-rejected'],
    ]);
  });

  it.each([
    ['of an unknown resin, with what to add', { ...wash(), resin: 'granite' }, /resins:.*granite: \{/],
    ['of an unknown part, with what to add', wash({ parts: { gargoyle: 1 } }), /parts:.*gargoyle: \{/],
    ['with an unknown key', { ...wash(), drained_minutes: 3 }, /drained_min/],
    ['after the clock', wash({ at: '2027-02-01T08:00:00+00:00' }), /once that time has come/],
    ['out of range', wash({ drained_min: -3 }), /./],
    ['too long', wash({ note: 'x'.repeat(100_000) }), /1 to 2000/],
    ['that corrects nothing', { id: 'v1', at: at(70), what: 'void', of: 'nope', why: 'x' }, /./],
    ['before the baths were filled', wash({ at: '2026-08-30T08:00:00-03:00' }), /Log the fill first/],
  ])('%s is rejected and the others are not', async (_, row, help) => {
    const good = wash({ id: 'w2', at: at(61) });
    const { rejected, fresh } = await imported(FILLED, [row, good]);
    expect(fresh).toEqual([good]);
    expect(rejected.map(({ line }) => line)).toEqual([2]);
    expect(rejected[0]!.help).toMatch(help);
    expect(rejected[0]!.message.length).toBeLessThan(300);
  });

  it('rejected takes its corrections, and theirs, with it', async () => {
    const { rejected, fresh } = await imported(FILLED, [
      wash({ at: '2026-08-30T08:00:00-03:00' }),
      { id: 'v1', at: at(70), what: 'amend', of: 'w1', set: { note: 'x' }, why: 'x' },
      { id: 'v2', at: at(71), what: 'void', of: 'v1', why: 'x' },
      { id: 'i1', at: at(72), what: 'inspect', wash: 'w1', result: 'ok' },
    ]);
    expect(fresh).toEqual([]);
    expect(rejected.map(({ line }) => line).sort()).toEqual([2, 3, 4, 5]);
  });

  it('that makes what is logged impossible stops the import', async () => {
    const { fresh, breaks } = await imported(
      [...FILLED, wash()],
      [{ id: 'd1', at: at(10), what: 'drain', bath: 'dirty', all: true }],
    );
    expect(fresh).toEqual([]);
    expect(breaks?.message).toMatch(/^Importing would make what is logged impossible.*"w1"/);
  });
});

describe('ids from what an event says', () => {
  it('seldom clash', () => {
    const ids = new Set(
      Array.from({ length: 50_000 }, (_, nth) => contentId(contentOf(wash(), nth * 1000), 0, () => false)),
    );
    // Of 31^8 ids 50 000 draws clash with a chance of about one in 700: n²/2N.
    expect(ids.size).toBeGreaterThan(49_998);
  });
});

describe('two events say the same', () => {
  it('by comparing just when their texts are the same', () => {
    const moments = fc.constantFrom(0, 60_000);
    fc.assert(
      fc.property(events, moments, moments, (list, one, other) => {
        for (const a of list)
          for (const b of [...list, { ...a, id: 'other' }, { ...a, note: 'x' }])
            expect(saySame({ event: a, atMs: one }, { event: b, atMs: other })).toBe(
              contentOf(a, one) === contentOf(b, other),
            );
      }),
    );
  });
});
