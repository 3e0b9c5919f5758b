/** JSON Schemas of what `stock`, `waste`, `reclaim` and `inspect` print: the list, or the entry they logged. */
import {
  EVENT,
  listOf,
  MASSES,
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

const STOCK = object({
  solvent: TEXT,
  on_hand_ml: {
    ...orNull(NUMBER),
    description: 'null: nothing was received or counted; below 0: a receipt is missing',
  },
  below_zero: TRUTH,
  counted_ml: orNull(NUMBER),
  counted_at: orNull(TIME),
  received_ml: NUMBER,
  reclaimed_ml: NUMBER,
  used_ml: NUMBER,
  used_28_days_ml: NUMBER,
  price_per_l: orNull(NUMBER),
  price_from: orNull(oneOf('received', 'header')),
  lots: listOf(
    object({ lot: orNull(TEXT), received_ml: NUMBER, first_at: TIME, price_per_l: orNull(NUMBER) }),
  ),
  lasts_days: { ...orNull(NUMBER), description: 'an estimate, at the pace of the last 28 days' },
  peroxide_test_by: orNull(TIME),
});

const COST = object({
  poured_ml: NUMBER,
  money: orNull(NUMBER),
  unpriced: listOf(TEXT),
  washes: WHOLE,
  parts: WHOLE,
  uncounted_washes: {
    ...WHOLE,
    description: 'washes that name no parts: with any, per_part is an upper bound',
  },
  per_wash: orNull(NUMBER),
  per_part: orNull(NUMBER),
});

const CONTAINER = object({
  container: { ...orNull(TEXT), description: 'null: drained without naming one' },
  opened_at: TIME,
  capacity_ml: orNull(NUMBER),
  holds_ml: NUMBER,
  full_share: orNull(NUMBER),
  holds_g: MASSES,
  age_days: orNull(NUMBER),
  taken_ml: NUMBER,
  reclaimed_ml: NUMBER,
  beyond_ml: { ...NUMBER, description: 'taken out without having been put in, by the ledger' },
  closed: orNull(oneOf('emptied', 'collected')),
  closed_at: orNull(TIME),
});

const THRESHOLD = object({
  what: oneOf('month-kg', 'site-kg', 'age-days', 'bench-litres'),
  jurisdiction: TEXT,
  item: TEXT,
  generator: orNull(TEXT),
  limit: { ...NUMBER, description: 'kg, days or litres' },
  includes_limit: TRUTH,
  amount: NUMBER,
  past: TRUTH,
  citation: TEXT,
  source: TEXT,
  status: TEXT,
});

const WASTE = object({
  containers: listOf(CONTAINER),
  tray_g: NUMBER,
  site_kg: NUMBER,
  month: object({ start: TIME, kg: NUMBER, tray_kg: NUMBER, litres: NUMBER }),
  thresholds: listOf(THRESHOLD),
  cautions: listOf(TEXT),
});

const CODED = object({ code: TEXT, text: TEXT });

const LABEL = object({
  container: TEXT,
  text: TEXT,
  words: TEXT,
  hazard: TEXT,
  signal_word: TEXT,
  statements: listOf(CODED),
  transport: object({ number: TEXT, class: TEXT, packing_group: TEXT }),
  waste_codes: listOf(CODED),
  bases: listOf(object({ says: TEXT, citation: TEXT, source: TEXT, jurisdiction: TEXT })),
});

/** What an inspected wash was, as the model has it. */
export const WASH_SEEN = object({
  id: TEXT,
  at: TIME,
  last_bath: TEXT,
  resin_wt_pct: orNull(QUANTITY),
  water_wt_pct: orNull(QUANTITY),
  residue_ug_per_cm2: orNull(QUANTITY),
  undissolved_share: NUMBER,
  soak_min: NUMBER,
  drained_min: NUMBER,
  agitation: TEXT,
  hollow: TRUTH,
});

const CAUSE = object({
  cause: oneOf(
    'bath-resin',
    'undissolved',
    'short-soak',
    'long-soak',
    'water',
    'drying',
    'drained',
    'hollow',
  ),
  weight: { type: 'integer', minimum: 1, maximum: 3 },
  likely: TEXT,
  says: TEXT,
  do: TEXT,
  basis: TEXT,
});

const LOOKS = object({
  looks: listOf(object({ event: EVENT, wash: orNull(WASH_SEEN) })),
  bath: { ...TEXT, description: 'the last bath of the usual way' },
  trials: object({ failed: WHOLE, all: WHOLE }),
  missing: orNull(object({ trials: WHOLE, failed: WHOLE, passed: WHOLE })),
  half_fail_at_wt_pct: orNull(object({ p05: NUMBER, p50: NUMBER, p95: NUMBER })),
});

/** @param logged - the keys of everything that writes */
export function stockSchemas(logged: Record<string, Schema>): Record<string, Schema> {
  const either = (...schemas: Schema[]): Schema => ({ oneOf: schemas });
  return {
    stock: either(
      object({ stock: listOf(STOCK), currency: TEXT, cost: object({ last_28_days: COST, all: COST }) }),
      object({ ...logged, stock: STOCK }),
    ),
    waste: either(WASTE, object({ label: LABEL }), object({ ...logged, container: CONTAINER })),
    reclaim: object({
      ...logged,
      yield_share: NUMBER,
      container_ml_before: NUMBER,
      residue_wt_pct: { ...QUANTITY, description: 'a guess' },
      residue_g: NUMBER,
      ipa_wt_pct: NUMBER,
      container_ipa_wt_pct: NUMBER,
      first_cost: orNull(NUMBER),
      peroxide_test_by: TIME,
      cautions: listOf(TEXT),
      container: CONTAINER,
      stock: STOCK,
    }),
    inspect: either(LOOKS, object({ ...logged, wash: orNull(WASH_SEEN), causes: listOf(CAUSE) })),
  };
}
