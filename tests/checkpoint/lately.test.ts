import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { lately, recorded } from '../../src/checkpoint/checkpoint.ts';
import type { Entry, LedgerEvent } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { type Days, paceOf } from '../../src/outlook/pace.ts';

const DAY_MS = 86_400_000;
const START_MS = Date.parse('2026-03-02T00:00:00Z');
const shop = openShop({
  format: 'bathbook/1',
  shop: { timezone: 'UTC' },
  baths: { dirty: { mark_ml: 4000 }, clean: { mark_ml: 4000 } },
} as unknown as Header);
const days: Days = {
  startOf: (ms) => Math.floor(ms / DAY_MS) * DAY_MS,
  next: (ms) => ms + DAY_MS,
  weekday: (ms) => new Date(ms).getUTCDay(),
};

const KINDS = ['wash', 'wash', 'wash', 'reading', 'inspect', 'fill', 'stock', 'waste', 'weighed'] as const;

/** Entries in order, some hours apart or, after a holiday, weeks. */
const ledgers = fc
  .array(
    fc.record({
      kind: fc.constantFrom(...KINDS),
      models: fc.integer({ min: 1, max: 9 }),
      hours: fc.constantFrom(0, 1, 3, 9, 24, 70, 400, 900),
    }),
    { minLength: 1, maxLength: 60 },
  )
  .map((list) => {
    let atMs = START_MS;
    return list.map(({ kind, models, hours }, place): Entry => {
      atMs += hours * 3_600_000;
      const event = {
        id: `e${place}`,
        at: new Date(atMs).toISOString(),
        what: kind,
        parts: { model: models },
      };
      return { event: event as unknown as LedgerEvent, atMs, line: place + 1, place } as Entry;
    });
  });

describe('what a checkpoint keeps of the entries before it', () => {
  it('gives the pace that all of them give, at any clock from the last on', () => {
    fc.assert(
      fc.property(ledgers, fc.integer({ min: 0, max: 50 * 24 }), (entries, hoursOn) => {
        const clockMs = entries.at(-1)!.atMs + hoursOn * 3_600_000;
        const plain = (of: readonly Entry[]) => {
          const pace = paceOf(shop, of, clockMs, days);
          return pace && { ...pace, dayScatter: pace.dayScatter };
        };
        expect(plain(lately(entries))).toEqual(plain(entries));
      }),
      { numRuns: 300 },
    );
  });

  it('gives it as well when it was cut anywhere, cut again, and went on', () => {
    fc.assert(
      fc.property(ledgers, fc.double({ min: 0, max: 1, noNaN: true }), (entries, share) => {
        const cut = Math.max(1, Math.floor(share * entries.length));
        const again = lately([...lately(entries.slice(0, cut)), ...entries.slice(cut)]);
        expect(again).toEqual(lately(entries));
      }),
      { numRuns: 300 },
    );
  });

  it('holds the last entry, the last measurement and the first wash, which are asked for by name', () => {
    fc.assert(
      fc.property(ledgers, (entries) => {
        const kept = new Set(lately(entries));
        const measured = entries.findLast(({ event }) => ['reading', 'weighed'].includes(event.what));
        const named = [entries.at(-1), measured, entries.find(({ event }) => event.what === 'wash')];
        for (const one of named) if (one) expect(kept.has(one)).toBe(true);
      }),
    );
  });

  it('holds in its records every entry that moves stock or waste', () => {
    fc.assert(
      fc.property(ledgers, (entries) => {
        const kept = new Set(recorded(entries));
        const moves = entries.filter(({ event }) => ['fill', 'stock', 'waste'].includes(event.what));
        expect(moves.filter((one) => !kept.has(one))).toEqual([]);
        expect(recorded(entries).filter((one) => one.event.what === 'wash')).toEqual(
          lately(entries).filter((one) => one.event.what === 'wash'),
        );
      }),
    );
  });
});
