/** JSON Schema of the report. */
import {
  byName,
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

import { WASH_SEEN } from './schemas-stock.ts';

const OUTLOOK = object({
  first_limit: orNull(object({ bath: TEXT, what: oneOf('resin', 'water', 'level') })),
  past: TRUTH,
  days_left: orNull(QUANTITY),
  date: orNull(object({ p05: TIME, p50: TIME, p95: TIME })),
  solvent_ml: { ...orNull(NUMBER), description: 'for the change' },
  order: orNull(
    object({
      solvent: TEXT,
      on_hand_ml: orNull(NUMBER),
      needed_ml: NUMBER,
      enough: orNull(TRUTH),
      order_by: orNull(TIME),
    }),
  ),
});

const WASHES = object({
  loads: WHOLE,
  estimated_loads: { ...WHOLE, description: 'of them, those logged from memory' },
  parts: WHOLE,
  parts_by_kind: byName(NUMBER),
  loads_without_parts: WHOLE,
  by: listOf(object({ by: orNull(TEXT), loads: WHOLE })),
  resin_in_g: { ...QUANTITY, description: 'carry-over into the first bath' },
});

const CHANGE = object({
  id: TEXT,
  at: TIME,
  what: oneOf('fill', 'top-up', 'drain', 'rotate', 'refill'),
  bath: { ...orNull(TEXT), description: 'null for a rotation, which moves both' },
  by: orNull(TEXT),
  poured_ml: { ...NUMBER, description: 'from stock, at 20 °C' },
  solvent: orNull(TEXT),
  from_clean_ml: NUMBER,
  waste_ml: NUMBER,
  waste_g: NUMBER,
  into: orNull(TEXT),
});

const WASTE = object({
  month: { ...TIME, description: 'its start' },
  litres: NUMBER,
  kg: NUMBER,
  tray_kg: NUMBER,
  site_kg: { ...NUMBER, description: 'in named containers' },
  containers: listOf(
    object({
      container: TEXT,
      opened: TIME,
      capacity_ml: orNull(NUMBER),
      held_ml: NUMBER,
      held_g: MASSES,
      taken_ml: NUMBER,
      age_days: orNull(NUMBER),
      closed: orNull(oneOf('emptied', 'collected')),
    }),
  ),
  thresholds: listOf(
    object({
      jurisdiction: TEXT,
      item: TEXT,
      kind: oneOf('month-kg', 'site-kg', 'age-days', 'bench-litres'),
      value: NUMBER,
      amount: NUMBER,
      past: TRUTH,
      citation: TEXT,
      source: TEXT,
    }),
  ),
  note: TEXT,
});

/** The data of `bathbook/report/1`, from schemas that other documents have too. */
export function reportSchema(shared: {
  bath: Schema;
  action: Schema;
  due: Schema;
  compared: Schema;
  problem: Schema;
}): Schema {
  const { bath, action, due, compared, problem } = shared;
  const reading = { at: TIME, bath: orNull(TEXT), wash: orNull(TEXT) };
  return object({
    ledger: TEXT,
    shop: TEXT,
    period: object({
      from: { ...TIME, description: 'not in it' },
      to: { ...TIME, description: 'in it' },
      why: oneOf('given', 'since-last-report', 'last-24-h', 'last-24-h-unkept'),
    }),
    judged: { ...TRUTH, description: 'false: a bath is empty, beyond the data, or the ledger is at odds' },
    baths: listOf(bath),
    advice: object({ action, text: TEXT }),
    outlook: orNull(OUTLOOK),
    due,
    washes: WASHES,
    readings: listOf(withKeys(compared, reading)),
    changes: listOf(CHANGE),
    solvent_used: listOf(
      object({
        solvent: TEXT,
        ml: NUMBER,
        price_per_l: orNull(NUMBER),
        money: orNull(NUMBER),
        paid_before: { ...TRUTH, description: 'reclaimed: paid for when it was first poured, no money now' },
      }),
    ),
    currency: TEXT,
    stock: listOf(
      object({
        solvent: TEXT,
        on_hand_ml: { ...orNull(NUMBER), description: 'null until the ledger was told of stock' },
        below_zero: TRUTH,
        price_per_l: orNull(NUMBER),
      }),
    ),
    receipts: listOf(EVENT),
    waste: orNull(WASTE),
    inspections: listOf(
      withKeys(EVENT, {
        wash_seen: {
          ...orNull(WASH_SEEN),
          description: 'the wash that it names, by estimate; null for none, and for all but the last 200',
        },
      }),
    ),
    corrections: listOf(object({ event: EVENT, of: EVENT, counts: TRUTH })),
    late: listOf(object({ event: EVENT, logged: TIME, counted: TRUTH })),
    odd: object({
      warnings: listOf(problem),
      more_warnings: WHOLE,
      refused: listOf(problem),
      later: WHOLE,
      flagged: { ...listOf(TEXT), description: 'readings too far off to be chance' },
    }),
  });
}

function withKeys(schema: Schema, keys: Record<string, Schema>): Schema {
  return {
    ...schema,
    properties: { ...(schema.properties as Record<string, Schema>), ...keys },
    required: [...(schema.required as string[]), ...Object.keys(keys)],
  };
}
