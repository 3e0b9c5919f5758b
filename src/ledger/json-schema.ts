import * as z from 'zod/mini';
import { EVENT_SCHEMAS } from './schema.ts';
import { HEADER_SCHEMA } from './schema-header.ts';

/** The JSON Schema of a ledger, made from the schemas that read it. */
export function ledgerJsonSchema(): object {
  const events = Object.values(EVENT_SCHEMAS).map((schema) => bare(z.toJSONSchema(schema)));
  const head = bare(z.toJSONSchema(HEADER_SCHEMA)) as { properties: object; required: string[] };
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    $id: 'urn:bathbook:ledger:1',
    title: 'bathbook ledger',
    ...head,
    properties: { ...head.properties, events: { type: ['array', 'null'], items: { oneOf: events } } },
    required: [...head.required, 'events'],
  };
}

function bare({ $schema: _, ...schema }: Record<string, unknown>): Record<string, unknown> {
  return schema;
}
