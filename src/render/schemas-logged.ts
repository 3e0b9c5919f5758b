/** JSON Schemas of what commands that write give back. */
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
  TRUTH,
} from './schema-parts.ts';
import { ACTION, BATH, STATE } from './schemas-baths.ts';
import { CATCH_UP_KEYS } from './schemas-catch-up.ts';
import { MESH_KEYS } from './schemas-mesh.ts';
import { COMPARED } from './schemas-reading.ts';

/** What every command that writes gives back; some give more. */
export const LOGGED = {
  event: { ...EVENT, description: 'the entry, as it stands in the ledger' },
  line: TEXT,
  ledger: TEXT,
  dry_run: TRUTH,
  back_dated: TRUTH,
  'before?': byName(STATE),
  after: byName(STATE),
  'poured_ml?': NUMBER,
  'waste_ml?': NUMBER,
  'waste_g?': MASSES,
  baths: listOf(BATH),
  loads_left: orNull(QUANTITY),
  advice: object({ action: ACTION, text: TEXT }),
  undo: TEXT,
  warnings: listOf(TEXT),
};

export const WASH = object({
  ...LOGGED,
  carry_g: QUANTITY,
  drag_ml: listOf(NUMBER),
  residue_ug_per_cm2: QUANTITY,
  area_cm2: NUMBER,
  ...MESH_KEYS,
  ...CATCH_UP_KEYS,
});

export const READING = object({
  ...LOGGED,
  readings: listOf(
    object({
      event: EVENT,
      line: TEXT,
      temp_c: { ...orNull(NUMBER), description: 'of the liquid, as it is used' },
      temp_from: oneOf('given', 'room', 'none'),
      undo: TEXT,
    }),
  ),
  compared: listOf(COMPARED),
});

export const WEIGHED = object({
  ...LOGGED,
  wash: { ...EVENT, description: 'the wash of the load, corrections applied' },
  came_off_g: NUMBER,
  compared: listOf(COMPARED),
});

export const UNDO: Schema = {
  oneOf: [
    object({ ...LOGGED, how: { const: 'void' } }),
    object({
      how: { const: 'cut' },
      event: EVENT,
      line: TEXT,
      put_back: {
        ...orNull(TEXT),
        description: 'the command that logs it again; null where none says it all',
      },
      kept_in: orNull(TEXT),
      ledger: TEXT,
      dry_run: TRUTH,
      before: byName(STATE),
      after: byName(STATE),
      baths: listOf(BATH),
      advice: object({ action: ACTION, text: TEXT }),
    }),
  ],
};
