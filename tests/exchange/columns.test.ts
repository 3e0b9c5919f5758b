import { describe, expect, it } from 'vitest';
import { EVENT_COLUMNS } from '../../src/exchange/columns.ts';
import { vocabulary } from '../../src/exchange/words.ts';
import { ledgerJsonSchema } from '../../src/ledger/json-schema.ts';
import { keyOrder } from '../../src/ledger/line.ts';
import { EVENT_KINDS, EVENT_SCHEMAS } from '../../src/ledger/schema.ts';

const keys = new Set(EVENT_COLUMNS.map(({ name, path }) => path?.[0] ?? name));

describe('the columns of events', () => {
  it.each(EVENT_KINDS)('hold every key of a %s', (kind) => {
    expect(keyOrder(kind).filter((key) => !keys.has(key))).toEqual([]);
    expect(Object.keys(EVENT_SCHEMAS[kind].def.shape).filter((key) => !keys.has(key))).toEqual([]);
  });

  it('and no key that no kind has, and none twice', () => {
    const all = new Set(EVENT_KINDS.flatMap(keyOrder));
    expect([...keys].filter((key) => !all.has(key))).toEqual([]);
    expect(new Set(EVENT_COLUMNS.map(({ name }) => name)).size).toBe(EVENT_COLUMNS.length);
  });

  it('take words that the schema has, all of them', () => {
    const known = {
      baths: new Set(['dirty']),
      brimMl: new Map(),
      washBaths: [],
      solvents: null,
      resins: null,
      parts: null,
    };
    const words = vocabulary(known);
    const defs = ledgerJsonSchema().$defs as Record<
      string,
      { properties: Record<string, { enum?: string[] }> }
    >;
    for (const [name, among] of words)
      for (const kind of EVENT_KINDS) {
        const allowed = defs[kind]?.properties?.[name]?.enum;
        if (allowed) expect([...among], `${kind} ${name}`).toEqual(expect.arrayContaining(allowed));
      }
    expect([...words.get('what')!]).toEqual(EVENT_KINDS);
  });
});
