/** The JSON Schema of every document that `--json` prints. Later versions only add keys. */
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
import { CATCH_UP_KEYS } from './schemas-catch-up.ts';
import { COMPARE } from './schemas-compare.ts';
import { DOCTOR } from './schemas-doctor.ts';
import { EXPORT, IMPORT_KEYS } from './schemas-exchange.ts';
import { EXPLAIN } from './schemas-explain.ts';
import { orSeveral } from './schemas-many.ts';
import { MESH_KEYS } from './schemas-mesh.ts';
import { DUE, OUTLOOK } from './schemas-outlook.ts';
import { CALIBRATE, COMPARED } from './schemas-reading.ts';
import { reportSchema } from './schemas-report.ts';
import { SHELL_SCHEMAS } from './schemas-shell.ts';
import { stockSchemas } from './schemas-stock.ts';
import { STRENGTH, TABLES } from './schemas-strength.ts';
import { VAPOUR } from './schemas-vapour.ts';

const LIMITS: Schema = {
  type: 'array',
  prefixItems: [NUMBER, NUMBER, NUMBER],
  minItems: 3,
  maxItems: 3,
  description: 'soon, change and never, wt%',
};

const BATH = object({
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

const ACTION = oneOf('nothing', 'rotate', 'refill-clean', 'refill-both', 'refill', 'top-up', 'take-reading');

const STATE = object({
  resin_g: NUMBER,
  ipa_g: NUMBER,
  water_g: NUMBER,
  volume_ml: NUMBER,
  resin_wt_pct: orNull(NUMBER),
  resin_vol_pct: orNull(NUMBER),
  water_wt_pct: orNull(NUMBER),
});

const BATHS = object({
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

/** What every command that writes gives back; some give more. */
const LOGGED = {
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

const WASH = object({
  ...LOGGED,
  carry_g: QUANTITY,
  drag_ml: listOf(NUMBER),
  residue_ug_per_cm2: QUANTITY,
  area_cm2: NUMBER,
  ...MESH_KEYS,
  ...CATCH_UP_KEYS,
});

const READING = object({
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

const WEIGHED = object({
  ...LOGGED,
  wash: { ...EVENT, description: 'the wash of the load, corrections applied' },
  came_off_g: NUMBER,
  compared: listOf(COMPARED),
});

const UNDO: Schema = {
  oneOf: [
    object({ ...LOGGED, how: { const: 'void' } }),
    object({
      how: { const: 'cut' },
      event: EVENT,
      line: TEXT,
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

const PROBLEM = object({
  code: TEXT,
  message: TEXT,
  'help?': TEXT,
  'line?': WHOLE,
  'column?': WHOLE,
  'length?': WHOLE,
  'excerpt?': TEXT,
  severity: oneOf('error', 'warning'),
});

const CHECK = object({
  files: listOf(
    object({
      file: TEXT,
      sound: TRUTH,
      events: WHOLE,
      counting: WHOLE,
      problems: listOf(PROBLEM),
      more_problems: WHOLE,
    }),
  ),
});

const STATE_BAND = object({
  resin_wt_pct: orNull(QUANTITY),
  water_wt_pct: orNull(QUANTITY),
  volume_ml: QUANTITY,
});

const ENTRIES = object({
  entries: listOf({
    ...EVENT,
    properties: {
      ...(EVENT.properties as Record<string, Schema>),
      amended_by: listOf(TEXT),
      state: { ...byName(STATE), description: 'the baths right after it, at best estimate' },
      band: { ...byName(STATE_BAND), description: 'the bands about them' },
      compared: { ...COMPARED, description: 'a reading beside what was expected of it' },
    },
  }),
});

const SETUP = object({
  ledger: TEXT,
  shop: object({
    name: TEXT,
    timezone: TEXT,
    'currency?': TEXT,
    room_c: NUMBER,
    humidity_pct: NUMBER,
    parts_use: oneOf('models', 'body-contact'),
  }),
  baths: { ...listOf(TEXT), description: 'by name, in the order of a wash' },
  mark_ml: { ...NUMBER, description: 'of each bath, as the sizes below' },
  length_mm: NUMBER,
  width_mm: NUMBER,
  freeboard_mm: NUMBER,
  lid_open_h: NUMBER,
  assumed: listOf(TEXT),
});

const DATA: Record<string, Schema> = {
  baths: orSeveral(BATHS, PROBLEM),
  entries: ENTRIES,
  wash: WASH,
  reading: READING,
  weighed: WEIGHED,
  ...stockSchemas(LOGGED),
  calibrate: CALIBRATE,
  outlook: OUTLOOK,
  compare: COMPARE,
  due: orSeveral(DUE, PROBLEM),
  export: EXPORT,
  import: object({
    ...IMPORT_KEYS,
    baths: { ...orNull(listOf(BATH)), description: 'null where the ledger is too long to replay for a look' },
  }),
  report: orSeveral(
    reportSchema({
      bath: BATH,
      action: ACTION,
      due: (DUE.properties as Record<string, Schema>).due!,
      compared: COMPARED,
      problem: PROBLEM,
    }),
    PROBLEM,
  ),
  fill: object(LOGGED),
  'top-up': object(LOGGED),
  drain: object(LOGGED),
  rotate: object(LOGGED),
  refill: object(LOGGED),
  undo: UNDO,
  amend: object(LOGGED),
  void: object({ ...LOGGED }),
  check: CHECK,
  strength: STRENGTH,
  tables: TABLES,
  vapour: VAPOUR,
  explain: EXPLAIN,
  doctor: DOCTOR,
  setup: SETUP,
  demo: object({ ledger: TEXT, last_event: TIME }),
  cron: object({
    ledger: TEXT,
    remind: { ...orNull(TEXT), description: 'null: off' },
    report: { ...orNull(TEXT), description: 'null: off' },
    workdays: TRUTH,
    lines: { ...listOf(TEXT), description: 'of a crontab' },
    units: listOf(object({ file: TEXT, text: TEXT })),
    install: { ...listOf(TEXT), description: 'commands to type' },
  }),
  ...SHELL_SCHEMAS,
  schema: object({ names: listOf(TEXT) }),
};

/** The documents that have a schema, by the command that prints them. */
export const DOCUMENTS: readonly string[] = Object.keys(DATA);

/** The schema of one document, envelope and all; undefined when there is no such document. */
export function documentSchema(name: string): Schema | undefined {
  const data = Object.hasOwn(DATA, name) ? DATA[name] : undefined;
  if (!data) return undefined;
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    $id: `urn:bathbook:${name}:1`,
    title: `bathbook ${name} --json`,
    ...object({
      schema: { const: `bathbook/${name}/1` },
      generated_by: { ...TEXT, pattern: '^bathbook \\d' },
      model: { ...TEXT, description: 'version of the equations' },
      as_of: TIME,
      data,
    }),
  };
}
