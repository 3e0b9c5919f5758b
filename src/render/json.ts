/** The envelope of every JSON document. */
import { printableJson } from './printable.ts';

/** Version of the equations; a change of any number it gives raises it. */
export const MODEL_VERSION = 'bathbook-model/1';

/** A document as text: which schema, made by what, as of when, the data. */
export function document(given: { name: string; version: string; asOf: string; data: unknown }): string {
  const text = JSON.stringify(
    {
      schema: `bathbook/${given.name}/1`,
      generated_by: `bathbook ${given.version}`,
      model: MODEL_VERSION,
      as_of: given.asOf,
      data: given.data,
    },
    null,
    2,
  );
  return printableJson(text);
}
