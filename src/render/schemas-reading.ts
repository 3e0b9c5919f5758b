/** JSON Schemas of what is told about readings. */
import {
  listOf,
  NUMBER,
  object,
  oneOf,
  orNull,
  QUANTITY,
  type Schema,
  TEXT,
  TRUTH,
  WHOLE,
} from './schema-parts.ts';

/** A reading beside what was expected of it. */
export const COMPARED: Schema = object({
  id: TEXT,
  sees: oneOf('density', 'index', 'resin', 'volume', 'mass', 'carry'),
  value: { ...NUMBER, description: 'in the unit of the reading: g/mL, SG, °Brix, n, wt%, mL or g' },
  expected: { ...QUANTITY, description: 'in the same unit' },
  sd: { ...NUMBER, description: 'standard deviation of instrument and model, in the same unit' },
  misfit_sd: { ...NUMBER, description: 'distance in standard deviations of reading and estimate together' },
  flagged: { ...TRUTH, description: 'more than 3 of them: it counts for less' },
  zero: { ...NUMBER, description: 'taken off, as the instrument was off in fresh solvent; g/mL or n' },
  as_resin_wt_pct: orNull(NUMBER),
  as_water_wt_pct: orNull(NUMBER),
  taught: listOf(TEXT),
});

const MEASUREMENT = {
  kind: oneOf('load', 'residue', 'index', 'density', 'weekend', 'weight', 'level'),
  bath: orNull(TEXT),
  with: oneOf('balance', 'refractometer', 'hydrometer', 'measure'),
  band_left: { ...NUMBER, description: 'width of the band of the loads left after it, as a share of now' },
};

export const CALIBRATE: Schema = object({
  factors: listOf(object({ name: TEXT, prior: QUANTITY, now: QUANTITY, readings: WHOLE })),
  readings: listOf(COMPARED),
  loads_left: orNull(QUANTITY),
  measurements: listOf(object(MEASUREMENT)),
  next: orNull(
    object({ ...MEASUREMENT, title: TEXT, needs: TEXT, steps: listOf(TEXT), cautions: listOf(TEXT) }),
  ),
});
