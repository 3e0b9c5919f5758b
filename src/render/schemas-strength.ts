/** The documents of `strength` and `tables`. */
import { byName, listOf, NUMBER, object, oneOf, orNull, type Schema, TEXT, TRUTH } from './schema-parts.ts';

/** A published table's answer to the same question, and how far it lies from the model. */
const ANSWER = object({
  source: { ...TEXT, description: 'an id of data/SOURCES.md' },
  ipa_wt_pct: orNull(NUMBER),
  'density_g_ml?': orNull(NUMBER),
  'refractive_index?': orNull(NUMBER),
  'less_model_wt_pct?': orNull(NUMBER),
  'less_model_g_ml?': orNull(NUMBER),
  flags: listOf(TEXT),
});

const FOUND = {
  reading: object({
    kind: oneOf('density', 'sg', 'index', 'wt', 'vol'),
    value: NUMBER,
    temp_c: NUMBER,
    sg_ref: orNull(TEXT),
    glass_c: orNull(NUMBER),
  }),
  basis: { ...oneOf('model', 'tables'), description: 'the model, or the tables alone below 40 wt%' },
  ipa_wt_pct: { ...orNull(NUMBER), description: 'null where the reading fits a range of strengths' },
  ipa_wt_pct_low: NUMBER,
  ipa_wt_pct_high: NUMBER,
  ipa_vol_pct: orNull(NUMBER),
  density_g_ml: orNull(NUMBER),
  density_20c_g_ml: orNull(NUMBER),
  refractive_index: orNull(NUMBER),
  sg: orNull(byName(NUMBER)),
  tables: listOf(ANSWER),
};

export const STRENGTH = object({
  ...FOUND,
  grade: orNull(TEXT),
  label: orNull(
    object({
      ipa_wt_pct: NUMBER,
      text: TEXT,
      agreement: oneOf('agrees', 'doubtful', 'weaker', 'stronger', 'unknown'),
      warning: TRUTH,
    }),
  ),
});

/** A reading looked up; without one, the published densities side by side. */
export const TABLES: Schema = {
  oneOf: [
    object(FOUND),
    object({
      published: listOf(
        object({
          temp_c: NUMBER,
          rows: listOf(
            object({
              ipa_wt_pct: NUMBER,
              ipa_vol_pct: orNull(NUMBER),
              model_g_ml: orNull(NUMBER),
              tables_g_ml: byName(orNull(NUMBER)),
            }),
          ),
        }),
      ),
    }),
  ],
};
