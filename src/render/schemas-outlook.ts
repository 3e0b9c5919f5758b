/** JSON Schemas of what lies ahead. */
import {
  byName,
  listOf,
  NUMBER,
  object,
  oneOf,
  orNull,
  QUANTITY,
  type Schema,
  TEXT,
  TIME,
  TRUTH,
  WHOLE,
} from './schema-parts.ts';

const MOMENTS: Schema = listOf(object({ bath: TEXT, date: TIME, resin_wt_pct: QUANTITY }));

const UNTIL: Schema = object({
  to: { ...TIME, description: 'the end of the last day that counts' },
  days: NUMBER,
  loads: QUANTITY,
  parts: QUANTITY,
  changes: { ...QUANTITY, description: 'whole ones' },
  rotations: { ...WHOLE, description: 'of the best estimate, like refills and dates' },
  refills: WHOLE,
  change_dates: listOf(object({ date: TIME, action: oneOf('rotate', 'refill'), baths: listOf(TEXT) })),
  solvent_ml: { ...QUANTITY, description: 'a change under way counts by its share in the band' },
  fill_ml: { ...NUMBER, description: 'of the best estimate, like the next two' },
  make_up_ml: NUMBER,
  top_up_ml: NUMBER,
  waste_ml: QUANTITY,
  waste_g: QUANTITY,
  cost: { ...orNull(QUANTITY), description: 'of the solvent; null when it has no price' },
  currency: orNull(TEXT),
  price_per_l: orNull(NUMBER),
  stock: orNull(
    object({
      solvent: TEXT,
      on_hand_ml: orNull(NUMBER),
      short_ml: orNull(QUANTITY),
      short_days: { ...orNull(QUANTITY), description: 'to the first pour for which there is too little' },
      order_by: orNull(TIME),
    }),
  ),
  complete: { ...TRUTH, description: 'false: the loads could not go on to that day' },
});

export const OUTLOOK: Schema = object({
  loads_left: { ...orNull(QUANTITY), description: 'null where no limit is met within a year' },
  parts_left: orNull(QUANTITY),
  days_left: orNull(QUANTITY),
  date: orNull(object({ p05: TIME, p50: TIME, p95: TIME })),
  first_limit: orNull(object({ bath: TEXT, what: oneOf('resin', 'water', 'level') })),
  past: { ...TRUTH, description: 'the limit is met already' },
  age_days_left: byName(orNull(NUMBER)),
  change: orNull(object({ action: oneOf('rotate', 'refill'), baths: listOf(TEXT) })),
  solvent_ml: { ...orNull(QUANTITY), description: 'for the change' },
  stock: orNull(
    object({
      solvent: TEXT,
      on_hand_ml: { ...orNull(NUMBER), description: 'null until the ledger was told of stock' },
      needed_ml: NUMBER,
      enough: orNull(TRUTH),
      order_by: orNull(TIME),
    }),
  ),
  basis: object({
    loads_per_week: NUMBER,
    loads_by_weekday: { ...listOf(NUMBER), description: 'Sunday first' },
    days_with_washes: { ...WHOLE, description: 'of the last 28; 0 when the pace was given' },
    washes: { ...WHOLE, description: 'that the mean load was taken from' },
    parts_per_load: NUMBER,
  }),
  trail: { ...MOMENTS, description: 'each bath since its last change, at the end of each day' },
  ahead: { ...MOMENTS, description: 'from the clock to the late end of the date, nothing changed' },
  until: { ...orNull(UNTIL), description: 'null unless a day was asked for' },
});

export const DUE: Schema = object({
  ledger: TEXT,
  judged: { ...TRUTH, description: 'false: a bath is empty, beyond the data, or the ledger is at odds' },
  due: listOf(
    object({
      key: { ...TEXT, description: 'the same for the same matter' },
      what: oneOf('limit', 'ahead', 'doubt', 'age', 'level', 'stale', 'reading', 'stock', 'test', 'waste'),
      bath: orNull(TEXT),
      item: { ...orNull(TEXT), description: 'the solvent or the container' },
      because: orNull(oneOf('resin', 'water', 'age', 'level')),
      severity: oneOf('soon', 'change', 'stop'),
      since: orNull(TIME),
      days: { ...orNull(NUMBER), description: 'until the limit, the order or the test, or of silence' },
      text: TEXT,
    }),
  ),
});
