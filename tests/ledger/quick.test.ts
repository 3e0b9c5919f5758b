/**
 * The everyday checks against the schemas that judge: nothing may pass here which they refuse. The ends of every range
 * are read out of the schemas themselves.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import type * as z from 'zod/mini';
import { keyOrder } from '../../src/ledger/line.ts';
import { quickEvent, quickHead } from '../../src/ledger/quick.ts';
import { EVENT_KINDS, EVENT_SCHEMAS } from '../../src/ledger/schema.ts';
import { HEADER_SCHEMA } from '../../src/ledger/schema-header.ts';

const AT = '2026-11-02T07:40:00-04:00';

/** Values worth trying for one key: inside, at both ends, a hair outside, and of the wrong kind. */
function trials(schema: z.core.$ZodType): unknown[] {
  const def = schema._zod.def as { type: string; innerType?: z.core.$ZodType } & Record<string, never>;
  const wrong: unknown[] = [
    null,
    true,
    false,
    'x',
    '',
    ' ',
    'X Y',
    '007',
    'constructor',
    3.5,
    -1,
    0,
    1,
    1e9,
    Number.NaN,
    [],
    ['x'],
    [1],
    {},
    { x: 1 },
    { model: 2 },
    { constructor: 1 },
  ];
  switch (def.type) {
    case 'optional':
      return trials(def.innerType!);
    case 'number': {
      const ends = (schema as unknown as { _zod: { bag: Record<string, number> } })._zod.bag;
      const all = [ends.minimum, ends.maximum, ends.exclusiveMinimum, ends.exclusiveMaximum].filter(
        (end) => end !== undefined,
      );
      return [...wrong, ...all.flatMap((end) => [end, end * (1 + 1e-9) + 1e-12, end * (1 - 1e-9) - 1e-12])];
    }
    case 'enum':
      return [...wrong, ...Object.values((def as unknown as { entries: object }).entries)];
    case 'literal':
      return [...wrong, ...(def as unknown as { values: unknown[] }).values];
    case 'string':
      return [
        ...wrong,
        'a'.repeat(40),
        'a'.repeat(41),
        'a'.repeat(80),
        'a'.repeat(81),
        'a'.repeat(2001),
        'ipa99',
        'CAD',
        AT,
      ];
    case 'array':
    case 'tuple': {
      const inner = def as unknown as { element?: z.core.$ZodType; items?: z.core.$ZodType[] };
      const items = trials(inner.element ?? inner.items![0]!);
      return [...wrong, ...items.map((item) => [item]), ...items.map((item) => [1, item, 2]), [1, 2]];
    }
    case 'record':
      return [
        ...wrong,
        ...trials((def as unknown as { valueType: z.core.$ZodType }).valueType).map((item) => ({
          model: item,
        })),
      ];
    case 'object': {
      const shape = (def as unknown as { shape: Record<string, z.core.$ZodType> }).shape;
      return [
        ...wrong,
        ...Object.entries(shape).flatMap(([key, one]) => trials(one).map((value) => ({ [key]: value }))),
      ];
    }
    default:
      return wrong;
  }
}

/** A sound example of each kind, to vary one key at a time. */
const SOUND: Record<string, object> = {
  fill: { bath: 'dirty', solvent: 'ipa99', ml: 4000 },
  wash: {
    parts: { model: 6, mask: 2 },
    resin: 'grey',
    minutes: [5, 5],
    baths: ['dirty', 'clean'],
    cases: ['26-1'],
  },
  'top-up': { bath: 'clean', solvent: 'ipa99', to: 'mark' },
  drain: { bath: 'dirty', all: true, into: 'can-1' },
  rotate: { solvent: 'ipa99' },
  refill: { bath: 'clean', ml: 3000 },
  reading: { bath: 'dirty', density_g_ml: 0.8 },
  weighed: { wash: 'k3f9', wet_g: 2, clean_g: 1 },
  inspect: { wash: 'k3f9', result: 'ok' },
  stock: { solvent: 'ipa99', received_ml: 5000 },
  waste: { container: 'can-1', action: 'opened' },
  reclaim: { container: 'can-1', ml: 500, method: 'settled', solvent: 'ipa99' },
  void: { of: 'k3f9', why: 'twice' },
  amend: { of: 'k3f9', set: { ml: 3000 }, why: 'typo' },
};

describe('nothing passes the everyday checks that the schema refuses', () => {
  it.each(EVENT_KINDS)('%s', (what) => {
    const schema = EVENT_SCHEMAS[what];
    const base = { id: 'k3f9', at: AT, what, ...SOUND[what] };
    expect(schema.safeParse(base).success).toBe(true);
    let passed = 0;
    for (const [key, one] of Object.entries(schema.shape)) {
      for (const value of [undefined, ...trials(one)]) {
        const varied: Record<string, unknown> = { ...base, [key]: value };
        if (value === undefined) delete varied[key];
        if (!quickEvent(varied)) continue;
        passed += 1;
        expect(schema.safeParse(varied).success, `${key}: ${JSON.stringify(value)}`).toBe(true);
      }
    }
    expect(quickEvent({ ...base, extra: 1 })).toBe(false);
    // Readings are few: they all go to the schema.
    const everyday = !['reading', 'weighed', 'reclaim'].includes(what);
    expect(quickEvent(base)).toBe(everyday);
    expect(passed > 0).toBe(everyday);
  });

  it('the head', () => {
    const base = {
      format: 'bathbook/1',
      shop: { name: 'Bench', currency: 'CAD', room_c: 22, defaults: { resin: 'grey', minutes: [5, 5] } },
      baths: { dirty: { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 } },
      limits: { dirty_resin: [8, 10, 20] },
      solvents: { ipa99: { ipa_wt_pct: 99.5 } },
      resins: { grey: { density_g_ml: 1.11 } },
      parts: { arch: { shape: 'solid', volume_ml: 30 } },
    };
    expect(quickHead(base)).toBe(true);
    let passed = 0;
    for (const varied of variations(base, HEADER_SCHEMA)) {
      if (!quickHead(varied)) continue;
      passed += 1;
      expect(HEADER_SCHEMA.safeParse(varied).success, JSON.stringify(varied)).toBe(true);
    }
    expect(passed).toBeGreaterThan(100);
  });

  /** The base with one value anywhere in it replaced by each trial. */
  function* variations(base: Record<string, unknown>, schema: z.core.$ZodType): Generator<unknown> {
    const def = schema._zod.def as unknown as {
      type: string;
      shape?: object;
      valueType?: z.core.$ZodType;
      innerType?: z.core.$ZodType;
    };
    if (def.type === 'optional') {
      yield* variations(base, def.innerType!);
      return;
    }
    const inner: [string, z.core.$ZodType][] =
      def.type === 'object'
        ? (Object.entries(def.shape!) as [string, z.core.$ZodType][])
        : Object.keys(base).map((key) => [key, def.valueType!]);
    for (const [key, one] of inner) {
      for (const value of trials(one)) yield { ...base, [key]: value };
      const here = base[key];
      const isMap = typeof here === 'object' && here !== null && !Array.isArray(here);
      if (isMap)
        for (const varied of variations(here as Record<string, unknown>, one))
          yield { ...base, [key]: varied };
    }
    yield { ...base, extra: 1 };
  }
});

describe('the keys of each kind are written in the order of its schema', () => {
  it.each(EVENT_KINDS)('%s', (what) => {
    expect(keyOrder(what)).toEqual(Object.keys(EVENT_SCHEMAS[what].shape));
  });
});

describe('golden ledgers pass without the schemas', () => {
  const folder = new URL('../golden/', import.meta.url);
  it.each(readdirSync(folder).filter((name) => name.endsWith('.yaml')))('%s', (name) => {
    const { events, ...head } = load(readFileSync(new URL(name, folder), 'utf8')) as { events: unknown[] };
    expect(quickHead(head)).toBe(true);
    expect(events.filter((event) => !quickEvent(asText(event)))).toEqual([]);
  });

  /** This parser reads times as dates. */
  function asText(event: unknown): unknown {
    return JSON.parse(JSON.stringify(event));
  }
});
