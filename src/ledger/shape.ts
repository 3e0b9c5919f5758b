import type * as z from 'zod/mini';

/** The keys a schema allows at a path; empty where any name may stand. */
export function keysAt(schema: z.core.$ZodType, path: readonly (string | number)[]): string[] {
  let here: z.core.$ZodType | undefined = schema;
  for (const key of path) {
    here = here === undefined ? undefined : step(bare(here), key);
  }
  const def = here === undefined ? undefined : (bare(here)._zod.def as z.core.$ZodObjectDef);
  return def?.type === 'object' ? Object.keys(def.shape) : [];
}

function step(schema: z.core.$ZodType, key: string | number): z.core.$ZodType | undefined {
  const def = schema._zod.def as z.core.$ZodObjectDef | z.core.$ZodRecordDef | z.core.$ZodArrayDef;
  switch (def.type) {
    case 'object':
      return def.shape[key];
    case 'record':
      return def.valueType;
    case 'array':
      return def.element;
    default:
      return undefined;
  }
}

/** The schema inside `optional`. */
function bare(schema: z.core.$ZodType): z.core.$ZodType {
  const def = schema._zod.def as z.core.$ZodOptionalDef;
  return def.type === 'optional' ? bare(def.innerType) : schema;
}
