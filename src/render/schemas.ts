/** The JSON Schema of every document that `--json` prints. Later versions only add keys. */
import {
  byName,
  EVENT,
  listOf,
  NUMBER,
  object,
  oneOf,
  orNull,
  type Schema,
  TEXT,
  TIME,
  TRUTH,
  WHOLE,
} from './schema-parts.ts';
import { ACTION, BATH, BATHS, STATE, STATE_BAND } from './schemas-baths.ts';
import { COMPARE } from './schemas-compare.ts';
import { DOCTOR } from './schemas-doctor.ts';
import { EXPORT, IMPORT_KEYS } from './schemas-exchange.ts';
import { EXPLAIN } from './schemas-explain.ts';
import { LOGGED, READING, UNDO, WASH, WEIGHED } from './schemas-logged.ts';
import { orSeveral } from './schemas-many.ts';
import { DUE, OUTLOOK } from './schemas-outlook.ts';
import { CALIBRATE, COMPARED } from './schemas-reading.ts';
import { reportSchema } from './schemas-report.ts';
import { SHELL_SCHEMAS } from './schemas-shell.ts';
import { stockSchemas } from './schemas-stock.ts';
import { STRENGTH, TABLES } from './schemas-strength.ts';
import { VAPOUR } from './schemas-vapour.ts';

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
