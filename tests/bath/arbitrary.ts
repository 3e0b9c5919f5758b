/** Generated shops and their events, the impossible ones included. */
import fc from 'fast-check';
import type { Header } from '../../src/ledger/header.ts';
import { type Draft, headerOf } from './bench.ts';

const BATHS = ['dirty', 'clean'] as const;
const SOLVENTS = ['ipa99', 'ipa91', 'ipa70'] as const;
const RESINS = ['standard', 'dense'] as const;

/** A number with few digits, so that a failing case can be read. */
const between = (min: number, max: number, digits = 2) =>
  fc
    .integer({ min: Math.round(min * 10 ** digits), max: Math.round(max * 10 ** digits) })
    .map((n) => n / 10 ** digits);

const bath = fc.constantFrom(...BATHS);
const solvent = fc.constantFrom(...SOLVENTS);

const tub = fc.record({
  mark_ml: between(300, 6000, 0),
  length_mm: between(80, 400, 0),
  width_mm: between(80, 300, 0),
  freeboard_mm: between(0, 80, 0),
  lid_open_h: between(0, 24, 1),
  evaporation: fc.constantFrom(0, 0.2, 1, 4),
  moisture: fc.constantFrom(0, 1, 2),
});

const RESIN_HEADERS = { dense: { density_g_ml: 1.52, viscosity_mpa_s: 1500, refractive_index: 1.53 } };

/** A pair of tubs of any shape in a room of any kind the data cover. */
export const anyHeader: fc.Arbitrary<Header> = fc
  .record({
    dirty: tub,
    clean: tub,
    roomC: between(10, 40, 1),
    humidityPct: between(0, 100, 0),
    carry: between(0.3, 3),
    drag: between(0.3, 3),
    dissolution: between(0.5, 2),
  })
  .map(({ dirty, clean, roomC, humidityPct, ...factors }) =>
    headerOf(
      { dirty, clean },
      { shop: { room_c: roomC, humidity_pct: humidityPct }, factors, resins: RESIN_HEADERS },
    ),
  );

/** The same with nothing lost to the air. */
export const sealedHeader = anyHeader.map(
  (header): Header => ({
    ...header,
    baths: Object.fromEntries(
      Object.entries(header.baths).map(([name, one]) => [name, { ...one, evaporation: 0, moisture: 0 }]),
    ),
  }),
);

const mostly = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined, freq: 3 });
/** Leaves out the keys that came out undefined, as a ledger does. */
const given = <T extends object>(record: fc.Arbitrary<T>) =>
  record.map((one) => Object.fromEntries(Object.entries(one).filter(([, value]) => value !== undefined)));

const route = fc.constantFrom(['dirty', 'clean'], ['dirty'], ['clean'], ['clean', 'dirty']);

const wash = fc
  .record({
    baths: route,
    load: fc.oneof(
      fc.record({
        parts: fc.constantFrom<Record<string, number>>(
          { model: 6 },
          { mask: 2, splint: 3 },
          { 'hollow-model': 4 },
          { crown: 20 },
        ),
      }),
      fc.record({ area_cm2: between(5, 900, 0), volume_ml: between(1, 200, 0) }),
    ),
    more: given(
      fc.record({
        resin: mostly(fc.constantFrom(...RESINS)),
        drained_min: mostly(between(0, 720, 0)),
        prerinse: mostly(fc.constantFrom('none', 'spray', 'brush', 'spin')),
        midrinse: mostly(fc.constantFrom('none', 'spray', 'brush')),
        agitation: mostly(fc.constantFrom('still', 'hand', 'stirred', 'ultrasonic')),
        carry_g: fc.option(between(0, 40), { nil: undefined }),
        trapped_g: fc.option(between(0, 3), { nil: undefined }),
        hollow: fc.option(fc.boolean(), { nil: undefined }),
        estimated: fc.option(fc.boolean(), { nil: undefined }),
      }),
    ),
    minutes: fc.array(between(0, 15, 0), { minLength: 2, maxLength: 2 }),
    // Now and then more than any bath holds.
    drag: fc.option(
      fc.array(
        fc.oneof({ weight: 9, arbitrary: between(0, 60) }, { weight: 1, arbitrary: between(500, 9000) }),
        { minLength: 2, maxLength: 2 },
      ),
      { nil: undefined },
    ),
  })
  .map(({ baths, load, more, minutes, drag }) => ({
    what: 'wash',
    baths,
    ...load,
    ...more,
    minutes: minutes.slice(0, baths.length),
    ...(drag ? { drag_ml: drag.slice(0, baths.length) } : {}),
  }));

const move = fc.oneof(
  fc.record({ what: fc.constant('fill'), bath, solvent, ml: between(50, 5000, 0) }),
  fc.record({ what: fc.constant('top-up'), bath, solvent, ml: between(10, 800, 0) }),
  fc.record({ what: fc.constant('top-up'), bath, solvent, to: fc.constant('mark') }),
  fc.record({
    what: fc.constant('top-up'),
    bath: fc.constant('dirty'),
    from: fc.constant('clean'),
    ml: between(10, 3000, 0),
  }),
  fc.record({
    what: fc.constant('top-up'),
    bath: fc.constant('dirty'),
    from: fc.constant('clean'),
    to: fc.constant('mark'),
  }),
  fc.record({ what: fc.constant('drain'), bath, ml: between(10, 3000, 0) }),
  fc.record({ what: fc.constant('drain'), bath, to: fc.constant('mark') }),
  fc.record({ what: fc.constant('drain'), bath, all: fc.constant(true) }),
  given(
    fc.record({ what: fc.constant('rotate'), solvent: mostly(solvent), ml: mostly(between(100, 5000, 0)) }),
  ),
  given(
    fc.record({
      what: fc.constant('refill'),
      bath,
      solvent: mostly(solvent),
      ml: mostly(between(100, 5000, 0)),
    }),
  ),
);

/** Events that are kept on record and move nothing. */
export const record: fc.Arbitrary<Draft> = fc.constantFrom<Draft>(
  { what: 'reading', bath: 'dirty', density_g_ml: 0.81, temp_c: 22 },
  { what: 'weighed', wash: 'e1', wet_g: 250, clean_g: 244 },
  { what: 'inspect', result: 'sticky' },
  { what: 'stock', solvent: 'ipa99', received_ml: 10_000 },
  { what: 'waste', container: 'W1', action: 'opened', capacity_l: 20 },
  { what: 'reclaim', container: 'W1', ml: 4000, method: 'settled', solvent: 'ipa91' },
);

/** A wash, move or nothing, some hours after the one before; often at the same moment. */
function timed(kinds: fc.Arbitrary<unknown>): fc.Arbitrary<Draft[]> {
  const pause = fc.oneof(fc.constant(0), between(0, 4), between(4, 400, 0));
  return fc.array(fc.tuple(kinds, pause), { minLength: 1, maxLength: 25 }).map((list) => {
    let hour = 0;
    return list.map(([event, after]) => {
      hour += after;
      return { ...(event as Draft), hour };
    });
  });
}

const filled: Draft[] = BATHS.map((name) => ({
  what: 'fill',
  bath: name,
  solvent: 'ipa99',
  ml: 1500,
  hour: 0,
}));

const anything = fc.oneof({ weight: 3, arbitrary: wash }, { weight: 2, arbitrary: move });

/** Any history; most start with both baths full, some with none. */
export const anyDrafts: fc.Arbitrary<Draft[]> = fc
  .tuple(fc.integer({ min: 0, max: 9 }), timed(anything))
  .map(([start, drafts]) => (start === 0 ? drafts : [...filled, ...drafts]));

/** A history in which every amount is given outright, so that it can be scaled. */
export const scalableDrafts: fc.Arbitrary<Draft[]> = timed(
  fc.oneof(
    { weight: 2, arbitrary: move },
    {
      weight: 3,
      arbitrary: wash.map(({ parts: _, ...one }: Record<string, unknown>) => ({
        ...one,
        area_cm2: 120,
        volume_ml: 40,
        drag_ml: (one.baths as string[]).map(() => 7.5),
      })),
    },
  ),
).map((drafts) => [...filled, ...drafts]);
