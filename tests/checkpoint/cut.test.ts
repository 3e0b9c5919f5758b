import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutOf } from '../../src/checkpoint/cut.ts';
import type { LedgerEvent, Written } from '../../src/ledger/event.ts';
import { type Settled, settle } from '../../src/ledger/settle.ts';

const DAY_MS = 86_400_000;
const START_MS = Date.parse('2026-03-02T12:00:00Z');

const timeOf = (day: number) => new Date(START_MS + day * DAY_MS).toISOString();

/** Washes, looks at them, corrections; nearly in order, as ledgers are. */
const events = fc
  .array(
    fc.record({
      kind: fc.constantFrom('wash', 'wash', 'wash', 'inspect', 'void', 'amend', 'moved'),
      early: fc.constantFrom(0, 0, 0, 0, 3, 15),
      back: fc.integer({ min: 1, max: 12 }),
    }),
    { minLength: 1, maxLength: 40 },
  )
  .map((list) =>
    list.map(({ kind, early, back }, place): Written => {
      const at = timeOf(place - early);
      const named = `e${Math.max(0, place - back)}`;
      const base = { id: `e${place}`, at };
      const made: Record<string, object> = {
        wash: { ...base, what: 'wash', parts: { model: 1 } },
        inspect: { ...base, what: 'inspect', wash: named, result: 'ok' },
        void: { ...base, what: 'void', of: named, why: 'twice' },
        amend: { ...base, what: 'amend', of: named, set: { note: 'x' }, why: 'x' },
        moved: { ...base, what: 'amend', of: named, set: { at: timeOf(place + 5) }, why: 'x' },
      };
      const isAlone = place === 0;
      return {
        event: made[isAlone ? 'wash' : kind] as LedgerEvent,
        atMs: Date.parse(at),
        line: place + 1,
        place,
      };
    }),
  );

/** The laws of a cut, one by one. */
function isCut(cut: number, all: readonly Written[], { entries, voided }: Settled, clockMs: number): boolean {
  const counted = new Map(entries.map((entry) => [entry.event.id, entry]));
  const isBefore = (id: string) => all.findIndex(({ event }) => event.id === id) < cut;
  const named = ({ event }: Written) => ('of' in event ? event.of : 'wash' in event ? event.wash : undefined);
  const timesOf = (written: Written) => [written.atMs, counted.get(written.event.id)?.atMs ?? written.atMs];
  const before = all.slice(0, cut);
  const after = all.slice(cut);
  const isSettled = ({ event, atMs }: Written) =>
    ((event.what === 'void' || event.what === 'amend') && atMs <= clockMs) ||
    counted.has(event.id) ||
    voided.has(event.id);
  return (
    before.every(isSettled) &&
    before.every((one) => after.every((other) => Math.max(...timesOf(one)) <= Math.min(...timesOf(other)))) &&
    before.every((one) => named(one) === undefined || isBefore(named(one)!)) &&
    after.every((one) => named(one) === undefined || !isBefore(named(one)!))
  );
}

describe('where a ledger can be cut', () => {
  it('is the last place that keeps all laws', async () => {
    await fc.assert(
      fc.asyncProperty(
        events,
        fc.nat({ max: 8 }),
        fc.integer({ min: -5, max: 50 }),
        async (all, behind, clock) => {
          const clockMs = START_MS + clock * DAY_MS;
          const settled = await settle(all, clockMs);
          const cuts = all.map((_, place) => place + 1).filter((cut) => cut <= all.length - behind);
          const last = cuts.findLast((cut) => isCut(cut, all, settled, clockMs)) ?? null;
          expect(cutOf(all, settled, { clockMs, behind })?.events ?? null).toBe(last);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('tells the latest time before it', async () => {
    await fc.assert(
      fc.asyncProperty(events, async (all) => {
        const clockMs = START_MS + 90 * DAY_MS;
        const settled = await settle(all, clockMs);
        const cut = cutOf(all, settled, { clockMs, behind: 3 });
        fc.pre(cut !== null);
        const { entries } = settled;
        const times = [...all.slice(0, cut!.events), ...entries.filter(({ place }) => place < cut!.events)];
        expect(cut!.latestMs).toBe(Math.max(...times.map(({ atMs }) => atMs)));
      }),
    );
  });
});
