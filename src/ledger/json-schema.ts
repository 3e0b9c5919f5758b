import * as z from 'zod/mini';
import type { EventKind } from './event.ts';
import { EXACTLY_ONE } from './rules.ts';
import { EVENT_KINDS, EVENT_SCHEMAS } from './schema.ts';
import { HEADER_SCHEMA } from './schema-header.ts';

type JsonSchema = Record<string, unknown>;

/**
 * The ledger as a JSON Schema (2020-12), made from the schemas that the program itself checks with.
 *
 * It holds keys, kinds and ranges. What takes more than one event or a calendar to know (ids used twice, names that are
 * defined nowhere, dates that do not exist) only the program checks.
 */
export function ledgerJsonSchema(): JsonSchema {
  const head = plain(HEADER_SCHEMA) as JsonSchema & { properties: JsonSchema; required: string[] };
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    $id: 'urn:bathbook:schema:ledger:1',
    title: 'Ledger of a bathbook',
    description:
      'The YAML file of two wash baths: the shop and its baths first, then the events, one on a line.',
    ...head,
    properties: {
      ...head.properties,
      events: {
        title: 'Events',
        type: ['array', 'null'],
        items: { oneOf: EVENT_KINDS.map((kind) => ({ $ref: `#/$defs/${kind}` })) },
      },
    },
    required: [...head.required, 'events'],
    $defs: Object.fromEntries(EVENT_KINDS.map((kind) => [kind, eventSchema(kind)])),
  };
}

function eventSchema(kind: EventKind): JsonSchema {
  const { properties, ...rest } = plain(EVENT_SCHEMAS[kind]) as JsonSchema & {
    properties: Record<string, JsonSchema>;
  };
  const time = { type: 'string', format: 'date-time' };
  return {
    title: `Event: ${kind}`,
    ...rest,
    properties: {
      ...properties,
      at: { ...properties.at, ...time },
      logged: { ...properties.logged, ...time },
    },
    ...together(kind),
  };
}

/** The rules about keys that exclude or need each other. */
function together(kind: EventKind): JsonSchema {
  if (kind === 'wash') {
    return {
      anyOf: [{ required: ['parts'] }, { required: ['volume_ml'] }, { required: ['area_cm2'] }],
      not: {
        anyOf: [bothOf('parts', 'volume_ml'), bothOf('parts', 'area_cm2'), bothOf('carry_g', 'carry_ml')],
      },
    };
  }
  const keys = (EXACTLY_ONE as Partial<Record<EventKind, readonly string[]>>)[kind];
  const oneOf = keys === undefined ? {} : { oneOf: keys.map((key) => ({ required: [key] })) };
  const needs = kind === 'top-up' ? { anyOf: [{ required: ['solvent'] }, fromClean()] } : {};
  const pair = kind === 'reading' ? { dependentRequired: { sg: ['sg_ref'], sg_ref: ['sg'] } } : {};
  return { ...oneOf, ...needs, ...pair };
}

function bothOf(first: string, second: string): JsonSchema {
  return { required: [first, second] };
}

function fromClean(): JsonSchema {
  return { required: ['from'], properties: { from: { const: 'clean' } } };
}

function plain(schema: z.core.$ZodType): JsonSchema {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { target: 'draft-2020-12' }) as JsonSchema;
  return rest;
}
