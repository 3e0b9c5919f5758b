import { listOf, object, orNull, type Schema, TEXT, TIME } from './schema-parts.ts';

/** The data of a command that takes one ledger or several. */
export function orSeveral(data: Schema, problem: Schema): Schema {
  const one = object({
    ledger: TEXT,
    shop: orNull(TEXT),
    as_of: { ...orNull(TIME), description: 'in the zone of its shop' },
    data: { ...orNull(data), description: 'as for this ledger alone; null when it could not be read' },
    problems: listOf(problem),
  });
  return { oneOf: [data, object({ ledgers: listOf(one) })] };
}
