/** Sound events of every kind for the property tests, and ledgers of them. */
import fc from 'fast-check';
import { checkEvent } from '../../src/ledger/check-event.ts';
import type { LedgerEvent } from '../../src/ledger/event.ts';
import { HEAD } from '../ledger/sample.ts';

const text = fc
  .oneof(
    fc.constantFrom(
      '=1+1',
      "'=x",
      '@me',
      '-5',
      '007',
      '1e5',
      'a;b',
      'a,b',
      ' b ',
      '[x',
      '{y',
      '"q"',
      'x\ny',
      '\tz',
      'é',
      '😀',
    ),
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 12 }),
  )
  .filter((one) => /\S/.test(one) && !/\p{Surrogate}|\0/u.test(one));
const id = fc.stringMatching(/^[a-z][a-z0-9]{4,7}$/);
const amount = fc.double({ min: 0.01, max: 900, noNaN: true }).map((one) => Number(one.toPrecision(4)));
const parts = fc.dictionary(
  fc.constantFrom('model', 'mask', 'hollow-model'),
  fc.integer({ min: 1, max: 9 }),
  {
    minKeys: 1,
  },
);
const cases = fc.array(text, { maxLength: 3 });
const may = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
const time = fc.integer({ min: 0, max: 80_000 }).map((minute) => at(minute));

/** From 2026-09-01, in a zone three hours behind. */
export function at(minute: number): string {
  return new Date(Date.UTC(2026, 8, 1) + minute * 60_000).toISOString().replace('.000Z', '-03:00');
}

const body = fc.oneof(
  fc.record({
    what: fc.constant('wash'),
    parts,
    drained_min: may(amount),
    minutes: may(fc.tuple(amount, amount)),
    drag_ml: may(fc.tuple(amount, amount).map((list) => list.map((one) => one / 100))),
    baths: may(fc.constant(['dirty', 'clean'])),
    prerinse: may(fc.constantFrom('none', 'spray')),
    cases: may(cases),
    lot: may(text),
    hollow: may(fc.boolean()),
    estimated: may(fc.boolean()),
  }),
  fc.record({
    what: fc.constant('wash'),
    volume_ml: amount,
    area_cm2: may(amount),
    resin: may(fc.constant('standard')),
  }),
  fc.record({
    what: fc.constant('top-up'),
    bath: fc.constantFrom('dirty', 'clean'),
    solvent: fc.constant('ipa99'),
    ml: amount,
  }),
  fc.record({
    what: fc.constant('top-up'),
    bath: fc.constant('dirty'),
    from: fc.constant('clean'),
    to: fc.constant('mark'),
  }),
  fc.record({ what: fc.constant('drain'), bath: fc.constant('dirty'), ml: fc.constant(1), into: may(text) }),
  fc.record({
    what: fc.constant('reading'),
    bath: fc.constant('clean'),
    residue: fc.record({ sample_ml: fc.constant(10), dry_g: fc.constant(0.03) }),
  }),
  fc.record({
    what: fc.constant('reading'),
    bath: fc.constant('dirty'),
    sg: fc.constant(0.79),
    sg_ref: fc.constant('20/20'),
    temp_c: may(fc.constant(21.5)),
  }),
  fc.record({
    what: fc.constant('inspect'),
    result: fc.constantFrom('ok', 'sticky'),
    parts: may(parts),
    cases: may(cases),
  }),
  fc.record({
    what: fc.constant('stock'),
    solvent: fc.constant('ipa99'),
    received_ml: amount,
    price: may(amount),
    supplier_note: may(text),
  }),
  fc.record({
    what: fc.constant('waste'),
    container: text,
    action: fc.constantFrom('opened', 'emptied'),
    capacity_l: may(amount),
  }),
  fc.record({
    what: fc.constant('reclaim'),
    container: text,
    ml: amount,
    method: fc.constant('settled'),
    solvent: fc.constant('ipa99'),
  }),
);

const event = fc
  .tuple(fc.record({ id, at: time }), body, fc.record({ by: may(text), note: may(text) }))
  .map(([head, middle, tail]) => defined({ ...head, ...middle, ...tail }))
  .filter((one) => checkEvent(one, null) !== null);

/** Without keys that are undefined. */
export function defined(map: object): LedgerEvent {
  return Object.fromEntries(Object.entries(map).filter(([, value]) => value !== undefined)) as LedgerEvent;
}

/** Events with ids of their own, and some corrections of them. */
export const events = fc
  .tuple(
    fc.uniqueArray(event, { selector: (one) => one.id, maxLength: 12 }),
    fc.array(fc.tuple(fc.nat(), id, text, fc.boolean()), { maxLength: 4 }),
  )
  .map(([list, corrections]) => {
    const taken = new Set(list.map((one) => one.id));
    const more = corrections.flatMap(([place, ownId, why, voids]): LedgerEvent[] => {
      const target = list[place % Math.max(1, list.length)];
      if (!target || taken.has(ownId)) return [];
      taken.add(ownId);
      const head = { id: ownId, at: at(90_000), of: target.id, why };
      return [
        (voids ? { ...head, what: 'void' } : { ...head, what: 'amend', set: { note: why } }) as LedgerEvent,
      ];
    });
    return [...list, ...more];
  });

/** Two full baths before everything else. */
export const FILLED: LedgerEvent[] = ['dirty', 'clean'].map(
  (bath) =>
    ({
      id: `fill-${bath}`,
      at: '2026-08-31T08:00:00-03:00',
      what: 'fill',
      bath,
      solvent: 'ipa99',
      ml: 4000,
    }) as LedgerEvent,
);

export { HEAD };
