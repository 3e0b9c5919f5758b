import { near } from '../ledger/near.ts';
import { DOCUMENTS, documentSchema } from '../render/schemas.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';

const NAMES = ['ledger', ...DOCUMENTS];

/** `schema`: the JSON Schema of the ledger or of a document; without a name, the names. */
export async function run([name]: string[], _options: Options, context: Context): Promise<number> {
  if (name === undefined) {
    if (context.json) context.printJson('schema', await context.clockMs(), { names: NAMES });
    else context.print(NAMES.join('\n'));
    return EXIT.done;
  }
  context.print(JSON.stringify(await schemaOf(name), null, 2));
  return EXIT.done;
}

async function schemaOf(name: string): Promise<object> {
  if (name === 'ledger') return (await import('../ledger/json-schema.ts')).ledgerJsonSchema();
  const schema = documentSchema(name);
  if (schema) return schema;
  const meant = near(name, NAMES);
  throw usage(
    `Cannot find a schema named "${name}"`,
    meant ? `did you mean "${meant}"?` : `the names are ${NAMES.join(', ')}`,
  );
}
