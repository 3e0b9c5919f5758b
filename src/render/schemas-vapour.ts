/** The document of `vapour`. */
import { listOf, NUMBER, object, oneOf, orNull, QUANTITY, type Schema, TEXT, TRUTH } from './schema-parts.ts';

const REACHED: Schema = {
  ...orNull(oneOf('low-end', 'high-end', 'caution-value')),
  description: 'what of the estimate first comes to it; null says nothing about the air',
};

const RANGE = object({
  low: { ...NUMBER, description: 'best estimate at the best mixing' },
  high: { ...NUMBER, description: 'four times it at the worst' },
  caution_low: { ...NUMBER, description: 'the value for cautions at the best mixing' },
  caution_high: NUMBER,
});

const TUB = object({
  tub: TEXT,
  surface_cm2: NUMBER,
  freeboard_mm: { ...NUMBER, description: 'from the liquid as it stands to the rim' },
  ipa_activity: NUMBER,
  factor: QUANTITY,
  best_g_per_h: { ...QUANTITY, description: 'lid off' },
  caution_g_per_h: NUMBER,
  headspace_vol_pct: { ...NUMBER, description: 'saturated vapour in the closed tub' },
  headspace: { ...oneOf('below', 'inside', 'above'), description: 'of the flammable range' },
  inside_from_c: NUMBER,
  inside_to_c: NUMBER,
});

/** Estimates have two significant figures. */
export const VAPOUR = object({
  cautions: { ...listOf(TEXT), description: 'to be shown before any number' },
  tubs: listOf(TUB),
  left_out: { ...listOf(TEXT), description: 'baths without solvent' },
  factors: TEXT,
  best_g_per_h: QUANTITY,
  caution_g_per_h: NUMBER,
  models: listOf(
    object({
      model: TEXT,
      text: TEXT,
      source: { ...TEXT, description: 'an id of data/SOURCES.md' },
      from_memory: { ...TRUTH, description: 'partly from memory and unverified' },
      low_g_per_h: { ...NUMBER, description: 'all tubs, in air of 0.1 m/s' },
      high_g_per_h: { ...NUMBER, description: 'in air of 0.25 m/s' },
    }),
  ),
  room: object({
    temp_c: NUMBER,
    volume_m3: NUMBER,
    air_m3_per_h: NUMBER,
    mixing: NUMBER,
    mixing_worst: NUMBER,
    assumed: { ...listOf(TEXT), description: 'what was not given' },
  }),
  open_min: NUMBER,
  near_m: orNull(NUMBER),
  air_ppm: object({
    opening: { ...RANGE, description: 'at the end of one opening, from clean air' },
    steady: { ...RANGE, description: 'with the lids off for hours' },
    near: { ...orNull(RANGE), description: 'close to the tubs; from memory, unverified' },
  }),
  flammable: object({ lower_vol_pct: NUMBER, upper_vol_pct: NUMBER, flash_point_c: NUMBER }),
  jurisdiction: { ...orNull(TEXT), description: 'null: all limits are listed' },
  caution_trigger: object({ ppm: NUMBER, reached_by: REACHED }),
  limits: listOf(
    object({
      jurisdiction: TEXT,
      item: TEXT,
      kind: oneOf('shift', 'short', 'danger'),
      ppm: NUMBER,
      printed: { ...TEXT, description: 'as its source has it' },
      citation: TEXT,
      source: TEXT,
      status: TEXT,
      reached_by: REACHED,
    }),
  ),
});
