/** JSON Schema of a comparison of habits. */
import {
  byName,
  listOf,
  NUMBER,
  object,
  oneOf,
  orNull,
  type Schema,
  TEXT,
  TRUTH,
  WHOLE,
} from './schema-parts.ts';

const POLICY: Record<string, Schema> = {
  name: TEXT,
  change_at: { ...byName(NUMBER), description: 'resin at which each bath is changed, wt%' },
  litres_per_year: { ...NUMBER, description: 'poured from stock' },
  cost_per_year: { ...orNull(NUMBER), description: 'null where the solvent has no price' },
  cost_per_year_band: orNull(object({ p05: NUMBER, p95: NUMBER })),
  cost_per_part: orNull(NUMBER),
  waste_l_per_year: NUMBER,
  waste_kg_per_year: { ...NUMBER, description: 'liquid from the baths and what rinses take off' },
  changes_per_year: NUMBER,
  washes_between_changes: orNull(NUMBER),
  over_limit_share: {
    ...NUMBER,
    description: 'of loads that began with a bath at or past a change limit, 0 to 1',
  },
  clean_resin_wt_pct_p95: { ...NUMBER, description: 'of the last bath as each load leaves it' },
  residue_ug_per_cm2_p95: {
    ...orNull(NUMBER),
    description: 'on the parts once dry; null where no load has an area',
  },
};

export const COMPARE: Schema = object({
  policies: listOf(
    object({
      ...POLICY,
      subject: oneOf('now', 'limit', 'baths', 'size', 'draining', 'rinsing', 'soaking', 'lids'),
    }),
  ),
  best: {
    ...orNull(
      object({
        ...POLICY,
        bounded: { ...TRUTH, description: 'a higher limit would come to what the ledger says never' },
      }),
    ),
    description: 'the cheapest change limit that keeps the risk; null when none does',
  },
  basis: object({
    risk: { ...NUMBER, description: 'most of the loads that may begin past a limit, 0 to 1' },
    draws: { ...WHOLE, description: 'worlds drawn' },
    seed: WHOLE,
    stopped: { ...TRUTH, description: 'ended by Ctrl-C before all worlds were drawn' },
    loads_per_week: NUMBER,
    washes: { ...WHOLE, description: 'that the loads were drawn from' },
    fresh_water_wt_pct: {
      ...orNull(NUMBER),
      description: 'of the solvent as poured, where that is past a limit on water, which is then left out',
    },
    price_per_l: orNull(NUMBER),
    disposal_per_l: NUMBER,
    price_per_change: NUMBER,
  }),
});
