/**
 * Whatever a ledger holds, the estimates are numbers in order, and the same twice: tubs of any shape, solvent of any strength,
 * readings of any value, baths that dry out.
 */
import { deserialize, serialize } from 'node:v8';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { imbalance } from '../../src/bath/tally.ts';
import type { BelievedUnderway } from '../../src/belief/believe.ts';
import type { BathHeader, Header } from '../../src/ledger/header.ts';
import { type Status, statusOf } from '../../src/outlook/status.ts';
import { type Draft, entriesOf, START_MS } from '../bath/bench.ts';

const MS_PER_HOUR = 3_600_000;

const tub: fc.Arbitrary<BathHeader> = fc.record({
  mark_ml: fc.constantFrom(300, 1000, 4000, 20_000),
  length_mm: fc.constantFrom(50, 260, 900),
  width_mm: fc.constantFrom(50, 180, 600),
  freeboard_mm: fc.constantFrom(0, 20, 200),
  lid_open_h: fc.constantFrom(0, 1, 24),
  evaporation: fc.constantFrom(0, 0.1, 1, 1, 20),
  moisture: fc.constantFrom(0, 1, 1, 5),
});

const header: fc.Arbitrary<Header> = fc
  .record({
    names: fc.constantFrom(['dirty', 'clean'], ['rinse'], ['first', 'second', 'third']),
    tubs: fc.tuple(tub, tub, tub),
    room_c: fc.constantFrom(10, 22, 40),
    humidity_pct: fc.constantFrom(0, 50, 100),
    factors: fc.constantFrom({}, { carry: 0 }, { drag: 0 }, { carry: 3, dissolution: 0.2 }),
  })
  .map(({ names, tubs, factors, ...shop }) => ({
    format: 'bathbook/1' as const,
    shop,
    factors,
    baths: Object.fromEntries(names.map((name, place) => [name, tubs[place]!])),
    solvents: { strong: { ipa_wt_pct: 99.9 }, weak: { ipa_wt_pct: 60 }, dry: { ipa_wt_pct: 100 } },
  }));

const share = (max: number) => fc.double({ min: 0, max, noNaN: true });

/** One event, before it knows the names and sizes of the baths. */
const event = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({
      wash: fc.record({
        parts: fc.integer({ min: 1, max: 12 }),
        soak: fc.constantFrom(0.1, 5, 60),
        given: fc.boolean(),
      }),
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      read: fc.oneof(
        share(0.5).map((more) => ({ density_g_ml: 0.7 + more })),
        share(0.03).map((more) => ({ density_g_ml: 0.79 + more, temp_c: 40 })),
        share(0.03).map((more) => ({ refractive_index: 1.37 + more })),
        share(20).map((more) => ({ brix: 20 + more })),
        share(60).map((resin_wt_pct) => ({ resin_wt_pct })),
        share(1).map((dry_g) => ({ residue: { sample_ml: 10, dry_g } })),
        share(1).map((full) => ({ full })),
        share(1).map((heavy) => ({ heavy })),
      ),
    }),
  },
  { weight: 1, arbitrary: fc.record({ weigh: share(20) }) },
  { weight: 2, arbitrary: fc.record({ move: fc.constantFrom('top-up', 'drain', 'refill', 'rotate') }) },
);

const ledger = fc
  .record({
    header,
    events: fc.array(
      fc.record({ event, place: fc.nat({ max: 2 }), hours: fc.constantFrom(0, 1, 5, 24, 300) }),
      { minLength: 3, maxLength: 40 },
    ),
    solvent: fc.constantFrom('strong', 'weak', 'dry'),
  })
  .map(({ header: head, events, solvent }) => {
    const names = Object.keys(head.baths);
    const drafts: Draft[] = names.map((bath) => ({
      what: 'fill',
      bath,
      solvent,
      ml: head.baths[bath]!.mark_ml,
      hour: 0,
    }));
    let hour = 0;
    for (const { event: made, place, hours } of events) {
      hour += hours;
      drafts.push({ ...draftOf(made, names, place, head, drafts.length), hour } as Draft);
    }
    return { head, drafts, clockMs: START_MS + (hour + 30) * MS_PER_HOUR };
  });

function draftOf(
  made: Record<string, unknown>,
  names: string[],
  place: number,
  head: Header,
  count: number,
): Record<string, unknown> {
  const bath = names[place % names.length]!;
  const markMl = head.baths[bath]!.mark_ml;
  if ('wash' in made) {
    const { parts, soak, given } = made.wash as { parts: number; soak: number; given: boolean };
    const minutes = names.map(() => soak);
    return {
      what: 'wash',
      parts: { model: parts },
      baths: names,
      minutes,
      ...(given ? { carry_g: parts } : {}),
    };
  }
  if ('read' in made) {
    const { full, heavy, ...values } = made.read as Record<string, number>;
    const amount = full === undefined ? {} : { level_ml: markMl * (0.05 + full) };
    const weight = heavy === undefined ? {} : { weight_g: markMl * (0.05 + heavy) };
    return { what: 'reading', bath, ...values, ...amount, ...weight };
  }
  if ('weigh' in made)
    return { what: 'weighed', wash: `e${count - 1}`, wet_g: 100 + (made.weigh as number), clean_g: 100 };
  switch (made.move) {
    case 'top-up':
      return { what: 'top-up', bath, solvent: 'strong', to: 'mark' };
    case 'drain':
      return { what: 'drain', bath, ml: markMl / 5 };
    case 'rotate':
      if (names.includes('clean')) return { what: 'rotate', solvent: 'strong' };
      break;
    default:
  }
  return { what: 'refill', bath, solvent: 'strong' };
}

/** Every estimate that carries a band, with its name. */
function banded({ estimates }: Status): [string, { p05?: number; p50: number; p95?: number }][] {
  return estimates.flatMap((bath) =>
    Object.entries(bath).flatMap(([key, value]) =>
      typeof value === 'object' && value !== null && 'p50' in value
        ? [[`${bath.bath} ${key}`, value] as const]
        : [],
    ),
  ) as [string, { p05?: number; p50: number; p95?: number }][];
}

function worldsOf({ belief: { ensemble } }: Status) {
  return { worlds: ensemble.worlds, scatter: ensemble.scatter, last: ensemble.last };
}

describe('any ledger', () => {
  it('gives numbers in order, nothing below nothing, and a closed balance', () => {
    fc.assert(
      fc.property(ledger, ({ head, drafts, clockMs }) => {
        const status = statusOf(openShop(head), entriesOf(drafts), clockMs);
        for (const [name, { p05, p50, p95 }] of banded(status)) {
          expect([p05, p50, p95].every(Number.isFinite), `${name}: ${p05} ${p50} ${p95}`).toBe(true);
          expect(p05!, name).toBeLessThanOrEqual(p50);
          expect(p95!, name).toBeGreaterThanOrEqual(p50);
          expect(p05!, name).toBeGreaterThanOrEqual(0);
        }
        for (const { expected, sd, misfit } of status.belief.compared)
          expect([expected.p05, expected.p50, expected.p95, sd, misfit].every(Number.isFinite)).toBe(true);
        for (const { baths, factors } of status.belief.ensemble.worlds) {
          const masses = baths.flatMap(({ resin, ipaG, waterG }) => [...resin, ipaG, waterG]);
          expect(
            [...masses, factors.carry, factors.drag].every((one) => one >= 0 && Number.isFinite(one)),
          ).toBe(true);
        }
        expect(imbalance(status.replayed.baths, status.replayed.tally)).toBeLessThan(1e-9);
      }),
      { numRuns: 120 },
    );
  }, 60_000);

  it('gives the same twice, to the last digit', () => {
    fc.assert(
      fc.property(ledger, ({ head, drafts, clockMs }) => {
        const told = () => JSON.stringify(banded(statusOf(openShop(head), entriesOf(drafts), clockMs)));
        expect(told()).toBe(told());
      }),
      { numRuns: 10 },
    );
  }, 60_000);

  it('goes on from any place as if it had not been halted, to the last digit', () => {
    fc.assert(
      fc.property(ledger, fc.nat(), ({ head, drafts, clockMs }, anywhere) => {
        const shop = openShop(head);
        const entries = entriesOf(drafts);
        // A weighed load teaches at its wash, right before it: the two are not parted.
        const places = entries.flatMap(({ event: { what } }, place) => (what === 'weighed' ? [] : [place]));
        const at = places[anywhere % places.length]!;
        let halted: Uint8Array | undefined;
        const through = statusOf(shop, entries, clockMs, {
          halt: { at, seen: (underway) => (halted = serialize(underway)) },
        });
        const from = deserialize(halted!) as BelievedUnderway;
        const on = statusOf(shop, entries, clockMs, { from, done: at });
        expect(worldsOf(on)).toEqual(worldsOf(through));
        expect(banded(on)).toEqual(banded(through));
        const { refused, ...replayed } = through.replayed;
        expect(on.replayed).toMatchObject(replayed);
        expect(on.replayed.refused.map(({ entry }) => entry.event.id)).toEqual(
          refused.map(({ entry }) => entry.event.id),
        );
        expect([on.left, on.lastWash, on.advice, on.factors]).toEqual([
          through.left,
          through.lastWash,
          through.advice,
          through.factors,
        ]);
        expect(on.belief.lessons.all).toEqual(through.belief.lessons.all);
      }),
      { numRuns: 120 },
    );
  }, 60_000);
});
