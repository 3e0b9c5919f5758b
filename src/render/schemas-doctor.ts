/** The document of `doctor`. */
import { byName, listOf, NUMBER, object, oneOf, orNull, TEXT, TIME, TRUTH, WHOLE } from './schema-parts.ts';

const KEPT = { files: WHOLE, bytes: WHOLE };

const LEDGER = object({
  path: { ...TEXT, description: 'with ~ for the home folder' },
  why: oneOf('--ledger', 'BATHBOOK_LEDGER', 'here', 'a folder above', 'your data folder'),
  bytes: { ...orNull(WHOLE), description: 'null where it cannot be read' },
  newline: orNull(oneOf('lf', 'crlf')),
  ends: orNull(oneOf('whole', 'no-newline', 'torn')),
  baths: orNull(WHOLE),
  events: { ...orNull(byName(WHOLE)), description: 'by kind' },
  first: orNull(TIME),
  last: orNull(TIME),
  counting: WHOLE,
  voided: WHOLE,
  later: { ...WHOLE, description: 'events after the clock' },
  by_hand: { ...WHOLE, description: 'lines read by the slower reader' },
  sound: TRUTH,
  problems: listOf(object({ code: TEXT, severity: oneOf('error', 'warning'), line: orNull(WHOLE) })),
  more_problems: WHOLE,
  permissions: orNull(
    object({
      mode: TEXT,
      others_may_write: TRUTH,
      anybody_may_replace: TRUTH,
      own: TRUTH,
      may_write: TRUTH,
      is_link: TRUTH,
    }),
  ),
});

export const DOCTOR = object({
  program: object({ version: TEXT, build: TEXT, model: TEXT, node: TEXT, platform: TEXT, arch: TEXT }),
  ledger: LEDGER,
  lock: orNull(object({ process: orNull(WHOLE), since: orNull(TEXT), stale: TRUTH })),
  cache: object({
    folder: orNull(TEXT),
    code: orNull(object({ ...KEPT, current: WHOLE })),
    checkpoints: orNull(object(KEPT)),
    checkpoint: oneOf('none', 'fits', 'to be made anew'),
  }),
  disk: object({ ledger_free_bytes: orNull(NUMBER), cache_free_bytes: orNull(NUMBER) }),
  clock: object({
    now: TIME,
    shop_zone: orNull(TEXT),
    computer_zone: TEXT,
    behind_s: { ...orNull(WHOLE), description: 'before the last entry' },
  }),
  terminal: object({
    stdin: TRUTH,
    stdout: TRUTH,
    stderr: TRUTH,
    columns: WHOLE,
    colour: TRUTH,
    ascii: TRUTH,
    locale: TEXT,
    term: TEXT,
  }),
  environment: byName(TEXT),
  findings: listOf(object({ severity: oneOf('fault', 'notice'), text: TEXT, help: TEXT })),
});
