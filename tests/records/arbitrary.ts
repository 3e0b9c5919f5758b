/** Generated histories with records of stock and waste among washes and moves. */
import fc from 'fast-check';
import { anyDrafts } from '../bath/arbitrary.ts';
import type { Draft } from '../bath/bench.ts';

const ml = fc.integer({ min: 1, max: 6000 });
/** Often less than a can holds. */
const takenMl = fc.oneof(
  { weight: 3, arbitrary: fc.integer({ min: 1, max: 900 }) },
  { weight: 1, arbitrary: ml },
);
const can = fc.constantFrom('can-1', 'can-2');
const solvent = fc.constantFrom('ipa99', 'ipa91', 'ipa70');

const anyRecord: fc.Arbitrary<Draft> = fc.oneof(
  fc.record({ what: fc.constant('stock' as const), solvent, received_ml: ml }),
  fc.record({ what: fc.constant('stock' as const), solvent, counted_ml: fc.nat(9000) }),
  fc.record({
    what: fc.constant('waste' as const),
    container: can,
    action: fc.constant('opened' as const),
    capacity_l: fc.constantFrom(5, 20),
  }),
  fc.record({
    what: fc.constant('waste' as const),
    container: can,
    action: fc.constantFrom('emptied' as const, 'collected' as const),
  }),
  fc.record({
    what: fc.constant('waste' as const),
    container: can,
    action: fc.constantFrom('emptied' as const, 'collected' as const),
    ml: takenMl,
  }),
  fc.record({
    what: fc.constant('reclaim' as const),
    container: can,
    ml: takenMl,
    method: fc.constantFrom('settled' as const, 'distilled' as const),
    solvent,
  }),
);

/** Some of what is drained goes into no can; now and then some of what a can got is taken out right away. */
interface Habit {
  can: number;
  taken: { how: 'collected' | 'reclaim' | 'nothing'; ml: number };
}

const habit: fc.Arbitrary<Habit> = fc.record({
  can: fc.nat(2),
  taken: fc.record({
    how: fc.constantFrom('collected' as const, 'reclaim' as const, 'nothing' as const),
    ml: takenMl,
  }),
});

/** A history with records strewn in, and what is drained put into cans. */
export const anyHistory: fc.Arbitrary<Draft[]> = fc
  .tuple(
    anyDrafts,
    fc.array(fc.tuple(anyRecord, fc.nat(100)), { maxLength: 12 }),
    fc.array(habit, { minLength: 7, maxLength: 7 }),
  )
  .map(([drafts, records, habits]) => {
    const mixed = drafts.flatMap((draft, place) => intoCan(draft, habits[place % habits.length]!));
    for (const [event, where] of records) {
      const place = where % (mixed.length + 1);
      mixed.splice(place, 0, { ...event, hour: mixed[place - 1]?.hour ?? 0 } as Draft);
    }
    return mixed;
  });

function intoCan(draft: Draft, { can: number, taken }: Habit): Draft[] {
  const drains = draft.what === 'drain' || draft.what === 'rotate' || draft.what === 'refill';
  if (!drains || number === 0) return [draft];
  const container = `can-${number}`;
  const drained: Draft = { ...draft, into: container };
  const hour = draft.hour ?? 0;
  const { how, ml: wantedMl } = taken;
  switch (how) {
    case 'nothing':
      return [drained];
    case 'collected':
      return [drained, { what: 'waste', container, action: how, ml: wantedMl, hour }];
    case 'reclaim':
      return [
        drained,
        { what: 'reclaim', container, ml: wantedMl, method: 'settled', solvent: 'ipa91', hour },
      ];
    default:
      return how satisfies never;
  }
}
