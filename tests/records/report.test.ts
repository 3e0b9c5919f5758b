/** What a report adds up: nothing lost and nothing doubled between periods, corrections and late entries by when they were logged. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import type { Entry, LedgerEvent, Written } from '../../src/ledger/event.ts';
import { movementsOf } from '../../src/records/movements.ts';
import { changesOf } from '../../src/records/report-changes.ts';
import { correctionsOf, lateOnes } from '../../src/records/report-corrections.ts';
import { isWithin } from '../../src/records/report-period.ts';
import { usedIn } from '../../src/records/report-solvent.ts';
import { washesOf } from '../../src/records/report-washes.ts';
import { entriesOf, FILLED, PAIR, START_MS } from '../bath/bench.ts';
import { anyHistory } from './arbitrary.ts';
import { at } from './bench.ts';

describe('periods that follow each other', () => {
  it('hold every wash, pour and drain of a history once', () => {
    fc.assert(
      fc.property(anyHistory, fc.array(fc.nat(400), { maxLength: 6 }), (drafts, hours) => {
        const shop = openShop(PAIR);
        const entries = entriesOf(drafts);
        const end = (entries.at(-1)?.atMs ?? START_MS) + 1;
        const cuts = [START_MS - 1, ...hours.map(at), end].sort((one, other) => one - other);
        const periods = cuts.slice(1).map((toMs, place) => ({ fromMs: cuts[place]!, toMs }));
        const kept = periods.map((period) => ({
          washes: washesOf(period),
          changes: changesOf(period, shop),
        }));
        const movements = movementsOf();
        const replayed = replay(shop, entries, Math.max(...cuts), {
          watch: (step) => {
            movements.watch(step);
            for (const { washes, changes } of kept) {
              washes.watch(step);
              changes.watch(step);
            }
          },
        });
        const sum = (of: (one: (typeof kept)[number]) => number) =>
          kept.reduce((all, one) => all + of(one), 0);
        const refused = new Set(replayed.refused.map(({ entry }) => entry.event.id));
        const counting = entries.filter(({ event }) => !refused.has(event.id));
        const washed = counting.filter(({ event }) => event.what === 'wash');
        expect(sum(({ washes }) => washes.washes.loads)).toBe(washed.length);
        // The tally of the replay knows nothing of periods: resin came in with the loads, less what the rinses before kept.
        const poured = movements.pours.reduce((all, { ml }) => all + ml, 0);
        const change = (key: 'pouredMl' | 'wasteMl' | 'wasteG') => (one: (typeof kept)[number]) =>
          one.changes.changes.reduce((all, now) => all + now[key], 0);
        expect(sum(change('pouredMl'))).toBeCloseTo(poured, 6);
        const { resin, ipa, water } = replayed.tally.waste;
        expect(sum(change('wasteG'))).toBeCloseTo(resin + ipa + water, 6);
        const used = periods.flatMap((period) => usedIn(movements.pours, [], period));
        expect(used.reduce((all, { ml }) => all + ml, 0)).toBeCloseTo(poured, 6);
      }),
      { numRuns: 60, seed: 20261122 },
    );
  });

  it('give a moment on their border to the earlier one', () => {
    expect([isWithin({ fromMs: 1, toMs: 2 }, 2), isWithin({ fromMs: 2, toMs: 3 }, 2)]).toEqual([true, false]);
  });
});

describe('a top-up from the clean bath', () => {
  it('is told by what left the clean bath, and as nothing poured', () => {
    const shop = openShop(PAIR);
    const changes = changesOf({ fromMs: START_MS, toMs: at(9) }, shop);
    const drafts = entriesOf([
      ...FILLED,
      { what: 'drain', bath: 'dirty', ml: 300, hour: 1 },
      { what: 'top-up', bath: 'dirty', from: 'clean', ml: 200, hour: 2 },
      { what: 'top-up', bath: 'dirty', from: 'clean', to: 'mark', hour: 3 },
    ]);
    replay(shop, drafts, at(9), { watch: changes.watch });
    const told = changes.changes.map(({ pouredMl, fromCleanMl, wasteMl }) => [
      pouredMl,
      fromCleanMl,
      wasteMl,
    ]);
    expect(told.map((row) => row.map((ml) => Math.round(ml * 1e6) / 1e6))).toEqual([
      [0, 0, 300],
      [0, 200, 0],
      [0, 100, 0],
    ]);
  });
});

const written = (event: object, hour: number, place: number): Written<LedgerEvent> => ({
  event: { at: new Date(at(hour)).toISOString(), ...event } as LedgerEvent,
  atMs: at(hour),
  line: place + 1,
  place,
});
const logged = (hour: number) => ({ logged: new Date(at(hour)).toISOString() });

describe('corrections', () => {
  const events = [
    written({ id: 'a', what: 'wash', parts: { model: 1 } }, 1, 0),
    written({ id: 'b', what: 'void', of: 'a', why: 'twice' }, 5, 1),
    written({ id: 'c', what: 'void', of: 'b', why: 'no' }, 9, 2),
    written({ id: 'd', what: 'amend', of: 'a', set: { by: 'X' }, why: 'late', ...logged(20) }, 2, 3),
  ];
  const ids = (fromHour: number, toHour: number) =>
    correctionsOf(events, new Map([['b', 'c']]), { fromMs: at(fromHour), toMs: at(toHour) }).map(
      ({ correction, target, counts }) => [correction.event.id, target.event.id, counts],
    );

  it('belong to when they were logged, with what they name, and say when they are undone', () => {
    expect(ids(0, 4)).toEqual([]);
    expect(ids(4, 8)).toEqual([['b', 'a', false]]);
    expect(ids(8, 12)).toEqual([['c', 'b', true]]);
    expect(ids(12, 24)).toEqual([['d', 'a', true]]);
  });
});

describe('late entries', () => {
  const entry = (id: string, hour: number, more: object) =>
    written({ id, what: 'wash', parts: { model: 1 }, ...more }, hour, 0) as Entry;
  const entries = [
    entry('before', 1, logged(6)),
    entry('same', 5, logged(6)),
    entry('plain', 6, {}),
    entry('after', 7, logged(30)),
  ];

  it('are those logged in the period, counted where they happened in it', () => {
    const late = lateOnes(entries, { fromMs: at(4), toMs: at(10) });
    expect(late.map(({ entry: one, counted }) => [one.event.id, counted])).toEqual([
      ['before', false],
      ['same', true],
    ]);
    expect(lateOnes(entries, { fromMs: at(10), toMs: at(40) }).map(({ entry: one }) => one.event.id)).toEqual(
      ['after'],
    );
  });
});
