/** JSON Schemas of baths: how they stand, what is advised, and the state right after an entry. */
import {
  byName,
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

const LIMITS: Schema = {
  type: 'array',
  prefixItems: [NUMBER, NUMBER, NUMBER],
  minItems: 3,
  maxItems: 3,
  description: 'soon, change and never, wt%',
};

export const BATH = object({
  bath: TEXT,
  volume_ml: QUANTITY,
  mass_g: QUANTITY,
  resin_g: QUANTITY,
  ipa_g: QUANTITY,
  water_g: QUANTITY,
  resin_wt_pct: orNull(QUANTITY),
  resin_g_per_l: orNull(QUANTITY),
  resin_vol_pct: orNull(QUANTITY),
  water_wt_pct: orNull({ ...QUANTITY, description: 'water in the solvent, resin left out' }),
  density_20c_g_ml: orNull(QUANTITY),
  density_room_g_ml: orNull(QUANTITY),
  refractive_index_room: orNull(QUANTITY),
  washes: { ...WHOLE, description: 'washes since the bath was changed' },
  age_days: orNull(NUMBER),
  limits: object({ resin_wt_pct: LIMITS, water_wt_pct: LIMITS, age_days: NUMBER }),
  verdict: oneOf('keep', 'soon', 'change', 'stop'),
  because: oneOf('resin', 'water', 'age', 'none'),
  dry: TRUTH,
  beyond_model: { ...TRUTH, description: 'the solvent is below 40 wt% IPA, where the density data end' },
});

export const ACTION = oneOf(
  'nothing',
  'rotate',
  'refill-clean',
  'refill-both',
  'refill',
  'top-up',
  'take-reading',
);

export const STATE = object({
  resin_g: NUMBER,
  ipa_g: NUMBER,
  water_g: NUMBER,
  volume_ml: NUMBER,
  resin_wt_pct: orNull(NUMBER),
  resin_vol_pct: orNull(NUMBER),
  water_wt_pct: orNull(NUMBER),
});

export const BATHS = object({
  baths: listOf(BATH),
  last_wash: orNull(
    object({
      id: TEXT,
      carry_g: QUANTITY,
      drag_ml: listOf(NUMBER),
      residue_ug_per_cm2: QUANTITY,
      area_cm2: NUMBER,
    }),
  ),
  advice: object({
    action: ACTION,
    text: TEXT,
    loads_left: orNull(QUANTITY),
    date: orNull(object({ p05: TIME, p50: TIME, p95: TIME })),
  }),
  factors: object({
    carry: QUANTITY,
    drag: QUANTITY,
    dissolution: QUANTITY,
    evaporation: byName(QUANTITY),
    moisture: byName(QUANTITY),
  }),
  tally_g: object({ in: MASSES, held: MASSES, parts: MASSES, tray: MASSES, waste: MASSES, air: MASSES }),
});

export const STATE_BAND = object({
  resin_wt_pct: orNull(QUANTITY),
  water_wt_pct: orNull(QUANTITY),
  volume_ml: QUANTITY,
});
