/** A replay in two pieces, watched, and with readings: what is seen on the way and what it changes, which is nothing. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Along, type Halt, type Replay, replay, type Underway } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { copyBath } from '../../src/bath/state.ts';
import { anyDrafts, anyHeader } from './arbitrary.ts';
import { type Draft, entriesOf, FILLED, headerOf, OPEN, PAIR, START_MS } from './bench.ts';

const HOUR_MS = 3_600_000;
const clockOf = (drafts: readonly Draft[]) =>
  START_MS + (30 + Math.max(0, ...drafts.map(({ hour }) => hour ?? 0))) * HOUR_MS;

const OPEN_PAIR = headerOf({ dirty: OPEN, clean: OPEN });
const load = (hour: number, models = 4): Draft => ({ what: 'wash', parts: { model: models }, hour });

describe('a replay in two pieces', () => {
  it('is the whole one to the last bit, wherever it is cut', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, fc.nat(), (header, drafts, cut) => {
        const shop = openShop(header);
        const entries = entriesOf(drafts);
        const at = cut % (entries.length + 1);
        const kept: Underway[] = [];
        const halt: Halt<Underway> = { at, seen: (reached) => kept.push(reached) };
        // Behind the last entry the first piece ends; before another one it would go on, and its state is live.
        replay(shop, entries.slice(0, at), clockOf(drafts), { halt });
        expect(kept).toHaveLength(1);
        const rest = replay(shop, entries.slice(at), clockOf(drafts), { from: kept[0]! });
        expect(plain(rest)).toEqual(plain(replay(shop, entries, clockOf(drafts))));
      }),
      { numRuns: 40 },
    );
  });

  it('shows at the cut what there is before that entry, once, and goes on', () => {
    const entries = entriesOf([...FILLED, load(5), load(9)]);
    const seen: unknown[] = [];
    const halt: Halt<Underway> = {
      at: 3,
      seen: ({ lastMs, baths, recent, solvent }) =>
        seen.push([lastMs, baths.map(({ washes }) => washes), recent.length, solvent]),
    };
    const whole = replay(openShop(OPEN_PAIR), entries, START_MS + 20 * HOUR_MS, { halt });
    expect(seen).toEqual([[START_MS + 5 * HOUR_MS, [1, 1], 1, 'ipa99']]);
    expect(whole.baths[0]!.washes).toBe(2);
  });

  it('ended behind the last entry has not stood up to the clock', () => {
    const entries = entriesOf(FILLED);
    const seen: Underway[] = [];
    const halt: Halt<Underway> = { at: 2, seen: (reached) => seen.push(reached) };
    const { baths } = replay(openShop(OPEN_PAIR), entries, START_MS + 500 * HOUR_MS, { halt });
    expect(seen[0]).toMatchObject({ lastMs: START_MS, solvent: 'ipa99' });
    expect(baths).toEqual(replay(openShop(OPEN_PAIR), entries, START_MS).baths);
  });

  it('whose masses do not add up is a fault of the program, and says so', () => {
    const seen: Underway[] = [];
    const halt: Halt<Underway> = { at: 2, seen: (reached) => seen.push(reached) };
    replay(openShop(PAIR), entriesOf(FILLED), START_MS, { halt });
    seen[0]!.baths[0]!.ipaG -= 0.01;
    const act = () => replay(openShop(PAIR), [], START_MS, { from: seen[0]! });
    expect(act).toThrow(/^The mass balance does not close: \S+ relative$/);
  });

  it('without an event is of empty baths, whatever the clock', () => {
    const nothing = replay(openShop(OPEN_PAIR), [], START_MS);
    expect(nothing).toMatchObject({ recent: [], refused: [], solvent: undefined });
    expect(nothing.baths.map(({ ipaG }) => ipaG)).toEqual([0, 0]);
  });
});

describe('the last washes', () => {
  it('are the last twenty, oldest first, each with its load and what came of it', () => {
    const washes = Array.from({ length: 23 }, (_, hour) => load(hour, 1 + hour));
    const { recent } = replay(openShop(PAIR), entriesOf([...FILLED, ...washes]), clockOf(washes));
    expect(recent.map(({ load }) => load.parts)).toEqual(Array.from({ length: 20 }, (_, at) => at + 4));
    expect(recent.map(({ entry }) => entry.event.id)).toEqual(recent.map((_, at) => `e${at + 5}`));
    for (const { outcome } of recent) expect(outcome.carryG).toBeGreaterThan(0);
    const few = replay(openShop(PAIR), entriesOf([...FILLED, ...washes.slice(0, 20)]), clockOf(washes));
    expect(few.recent).toHaveLength(20);
  });
});

describe('a watcher', () => {
  const drafts: Draft[] = [
    ...FILLED,
    load(10),
    { what: 'stock', solvent: 'ipa99', received_ml: 5000, hour: 100 },
    { what: 'reading', bath: 'dirty', resin_wt_pct: 1, hour: 200 },
    load(300),
  ];
  const look = (watchRecords: boolean) => {
    const seen: [id: string, ipaG: number, beforeG: number][] = [];
    const entries = entriesOf(drafts);
    const ended = replay(openShop(OPEN_PAIR), entries, clockOf(drafts), {
      watchRecords,
      watch: ({ entry, baths, before }) => seen.push([entry.event.id, baths[0]!.ipaG, before[0]!.ipaG]),
    });
    return { seen, ended };
  };

  it('sees what moved, and with the records the baths as they stood then; it changes nothing', () => {
    const [all, moved] = [look(true), look(false)];
    expect(moved.seen.map(([id]) => id)).toEqual(['e0', 'e1', 'e2', 'e5']);
    expect(all.seen.map(([id]) => id)).toEqual(['e0', 'e1', 'e2', 'e3', 'e4', 'e5']);
    expect(plain(all.ended)).toEqual(plain(moved.ended));
    const [, , washed, note, reading] = all.seen.map(([, ipaG]) => ipaG);
    expect(note).toBeLessThan(washed!);
    expect(reading).toBeLessThan(note!);
    // A record moves nothing: before and after are one.
    for (const [id, ipaG, beforeG] of all.seen.slice(3, 5)) expect(ipaG, id).toBe(beforeG);
    expect(
      replay(openShop(OPEN_PAIR), entriesOf(drafts.slice(0, 3)), START_MS + 200 * HOUR_MS).baths[0]!.ipaG,
    ).toBe(reading);
  });
});

describe('a reading, with somebody beside the replay who learns', () => {
  it('of an empty bath is refused by that bath, and the air goes on as if it had not been', () => {
    const read: string[] = [];
    const along: Along = {
      happened: () => false,
      read: (entry) => read.push(entry.event.id),
      settled: () => undefined,
    };
    const drafts: Draft[] = [
      FILLED[1]!,
      { what: 'reading', bath: 'dirty', resin_wt_pct: 1, hour: 40 },
      { what: 'reading', bath: 'clean', resin_wt_pct: 1, hour: 50 },
    ];
    const shop = openShop(OPEN_PAIR);
    const made = replay(shop, entriesOf(drafts), START_MS + 90 * HOUR_MS, { along });
    expect(made.refused.map(({ entry, refusal }) => [entry.event.id, refusal])).toEqual([
      ['e1', { bath: 0, why: 'empty' }],
    ]);
    expect(read).toEqual(['e2']);
    // A reading that changes nothing lets no hour count twice.
    const plainly = replay(shop, entriesOf(drafts.slice(0, 1)), START_MS + 90 * HOUR_MS).baths[1]!;
    expect(plainly.waterG).toBeGreaterThan(
      replay(shop, entriesOf(drafts.slice(0, 1)), START_MS).baths[1]!.waterG + 1,
    );
    expect(Math.abs(made.baths[1]!.waterG / plainly.waterG - 1)).toBeLessThan(1e-3);
    // Steps end at the reading that was taken, not at the one that was not.
    const without = replay(shop, entriesOf([drafts[0]!, drafts[2]!]), START_MS + 90 * HOUR_MS, { along });
    expect(plain({ ...made, refused: [] })).toEqual(plain(without));
  });
});

/** Without what hangs on the identity of entries. */
function plain({ baths, tally, recent, solvent, refused }: Replay) {
  return {
    baths: baths.map(copyBath),
    tally,
    recent: recent.map(({ load, outcome }) => ({ load, outcome })),
    solvent,
    refused: refused.map(({ refusal }) => refusal),
  };
}
