/** JSON Schemas of export and import. */
import {
  EVENT,
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

const CELL: Schema = {
  description: 'in the unit the name of the column ends with',
  type: ['string', 'number', 'boolean', 'array', 'object', 'null'],
};

/** One shape for each format. */
export const EXPORT: Schema = {
  oneOf: [
    object({
      format: { const: 'ics' },
      events: listOf(object({ uid: TEXT, date: TEXT, summary: TEXT, description: TEXT })),
    }),
    object({
      format: oneOf('csv', 'ndjson'),
      what: { const: 'events' },
      'columns?': { ...listOf(TEXT), description: 'of the table' },
      events: { ...listOf(EVENT), description: 'as they stand in the ledger' },
    }),
    object({
      format: { ...oneOf('csv', 'html'), description: 'html: washes, those of the page' },
      what: oneOf('states', 'washes'),
      columns: listOf(TEXT),
      rows: listOf({ type: 'object', additionalProperties: CELL }),
    }),
    object({
      format: oneOf('openmetrics', 'prometheus'),
      metrics: listOf(
        object({
          name: TEXT,
          type: oneOf('gauge', 'info', 'stateset'),
          'unit?': TEXT,
          help: TEXT,
          samples: listOf(
            object({ 'labels?': { type: 'object', additionalProperties: TEXT }, value: NUMBER }),
          ),
        }),
      ),
    }),
  ],
};

/** But for the baths afterwards. */
export const IMPORT_KEYS: Record<string, Schema> = {
  ledger: TEXT,
  file: TEXT,
  format: oneOf('csv', 'ndjson'),
  dry_run: TRUTH,
  columns: listOf(
    object({
      column: TEXT,
      key: TEXT,
      unit: { ...orNull(TEXT), description: 'of bare numbers, from the heading' },
    }),
  ),
  not_read: { ...listOf(TEXT), description: 'columns that feed no key' },
  assumed: listOf(TEXT),
  new: { ...WHOLE, description: 'events that were added, or would be' },
  present: { ...WHOLE, description: 'events that the ledger has already' },
  rejected: listOf(
    object({ line: { ...WHOLE, description: 'of the file' }, code: TEXT, message: TEXT, 'help?': TEXT }),
  ),
  alike: {
    ...listOf(object({ line: WHOLE, id: TEXT })),
    description: 'new ones of the same moment and kind as an entry that says something else',
  },
  events: { ...listOf(object({ line: WHOLE, event: EVENT })), description: 'the new ones, as written' },
};
