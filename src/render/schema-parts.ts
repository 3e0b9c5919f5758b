/** Building blocks of the JSON Schemas of this program's documents. */
export type Schema = Readonly<Record<string, unknown>>;

export const NUMBER: Schema = { type: 'number' };
export const WHOLE: Schema = { type: 'integer', minimum: 0 };
export const TEXT: Schema = { type: 'string' };
export const TRUTH: Schema = { type: 'boolean' };
export const TIME: Schema = { type: 'string', format: 'date-time' };

/** An estimate; `p05` and `p95` are left out where it is known for sure. */
export const QUANTITY: Schema = {
  type: 'object',
  properties: { p05: NUMBER, p50: { ...NUMBER, description: 'best estimate' }, p95: NUMBER },
  required: ['p50'],
};

/** An event of the ledger; `bathbook schema ledger` has the keys of each kind. */
export const EVENT: Schema = {
  type: 'object',
  properties: { id: TEXT, at: TIME, what: TEXT },
  required: ['id', 'at', 'what'],
  additionalProperties: true,
};

/** That, or null. */
export function orNull(schema: Schema): Schema {
  return { anyOf: [schema, { type: 'null' }] };
}

/** A list of those. */
export function listOf(items: Schema): Schema {
  return { type: 'array', items };
}

/** One of a few words. */
export function oneOf(...values: readonly string[]): Schema {
  return { enum: values };
}

/** A map by names of the ledger, like baths. */
export function byName(value: Schema): Schema {
  return { type: 'object', additionalProperties: value };
}

/** An object; keys that end in `?` may be missing. */
export function object(keys: Record<string, Schema>): Schema {
  const properties: Record<string, Schema> = {};
  const required: string[] = [];
  for (const [key, schema] of Object.entries(keys)) {
    const isOptional = key.endsWith('?');
    const name = isOptional ? key.slice(0, -1) : key;
    properties[name] = schema;
    if (!isOptional) required.push(name);
  }
  return { type: 'object', properties, required };
}

/** Masses by substance, g. */
export const MASSES: Schema = object({ resin: NUMBER, ipa: NUMBER, water: NUMBER });
