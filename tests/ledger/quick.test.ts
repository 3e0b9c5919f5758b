/**
 * The everyday checks may be narrower than the schemas and never wider: whatever they pass, the schema passes. The values
 * tried come from the schemas themselves: both ends of each range with the numbers just beyond, each word of a list, and
 * values of every other kind.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import * as z from 'zod/mini';
import { AGITATIONS, type EventKind, MIDRINSES, PRERINSES } from '../../src/ledger/event.ts';
import { keyOrder } from '../../src/ledger/line.ts';
import { quickEvent, quickHead } from '../../src/ledger/quick.ts';
import { EVENT_KINDS, EVENT_SCHEMAS } from '../../src/ledger/schema.ts';
import { HEADER_SCHEMA } from '../../src/ledger/schema-header.ts';

interface Json {
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  enum?: unknown[];
  const?: unknown;
  items?: Json | false;
  prefixItems?: Json[];
  properties?: Record<string, Json>;
  additionalProperties?: Json | false;
  maxLength?: number;
}

const ODD: unknown[] = [
  undefined,
  null,
  true,
  false,
  Number.NaN,
  Number.POSITIVE_INFINITY,
  0,
  -0,
  1,
  -1,
  0.5,
  1e9,
  '',
  ' ',
  '\n',
  'x',
  'X',
  '7',
  'null',
  'a b',
  'é',
  '-x',
  'constructor',
  '__proto__',
  'toString',
  'x'.repeat(40),
  'x'.repeat(41),
  'x'.repeat(64),
  'x'.repeat(65),
  'x'.repeat(80),
  'x'.repeat(81),
  'x'.repeat(200),
  'x'.repeat(201),
  'x'.repeat(2000),
  'x'.repeat(2001),
  'CAD',
  'cad',
  [],
  {},
  [null],
  ['x'],
  [[]],
  { x: 1 },
  { x: 0 },
  { x: 1.5 },
  { x: 1000 },
  { x: 1001 },
  { 'a b': 1 },
  { constructor: 1 },
  [1],
  [1, 2, 3],
  [1, 2, 3, 4],
  ['x', 'x'],
];

/** Values at and around what a schema allows. */
function around(json: Json): unknown[] {
  const ends = [json.minimum, json.exclusiveMinimum, json.maximum].filter((end) => end !== undefined);
  const numbers = ends.flatMap((end) => [end, end - 1e-9, end + 1e-9, end - 0.01, end + 0.01]);
  const words = [...(json.enum ?? []), ...('const' in json ? [json.const] : [])];
  const items = !json.items ? [] : around(json.items).flatMap((item) => [[item], [item, item]]);
  const tuples = (json.prefixItems?.[0] ? around(json.prefixItems[0]) : []).flatMap((item) => [
    [item, item, item],
    [item, item],
  ]);
  const inner = Object.entries(json.properties ?? {}).flatMap(([key, value]) =>
    around(value).map((one) => ({ [key]: one })),
  );
  const named = json.additionalProperties
    ? around(json.additionalProperties).flatMap((one) => [{ x: one }, { 'x y': one }])
    : [];
  return [...numbers, ...words, ...items, ...tuples, ...inner, ...named, ...ODD];
}

const jsonOf = (schema: z.core.$ZodType): Json => z.toJSONSchema(schema) as Json;

/** The least that makes a sound event of each kind, and the keys whose ends can then be tried one by one. */
const LEAST: Record<EventKind, object> = {
  fill: { bath: 'dirty', solvent: 'ipa99', ml: 1 },
  wash: {},
  'top-up': { bath: 'dirty' },
  drain: { bath: 'dirty' },
  rotate: {},
  refill: { bath: 'dirty' },
  reading: { bath: 'dirty' },
  weighed: { wash: 'w', wet_g: 2, clean_g: 1 },
  inspect: { result: 'ok' },
  stock: { solvent: 'ipa99' },
  waste: { container: 'drum 1', action: 'opened' },
  reclaim: { container: 'drum 1', ml: 5, method: 'settled', solvent: 'ipa99' },
  void: { of: 'w', why: 'x' },
  amend: { of: 'w', set: { ml: 1 }, why: 'x' },
};

const folder = new URL('../golden/', import.meta.url);
const goldens = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .map(
    (name) =>
      load(readFileSync(new URL(name, folder), 'utf8'), { schema: CORE_SCHEMA }) as { events: object[] },
  );

describe('the everyday checks of an event', () => {
  it.each(EVENT_KINDS)('pass no %s that its schema refuses', (what) => {
    const schema = EVENT_SCHEMAS[what];
    const base = { id: 'a', at: '2026-11-02T07:40:00-04:00', what, ...LEAST[what] };
    expect(schema.safeParse(base).success).toBe(true);
    let passed = 0;
    for (const [key, json] of Object.entries({ ...jsonOf(schema).properties, colour: {} })) {
      for (const value of around(json)) {
        const tried = { ...base, [key]: value };
        if (quickEvent(tried)) {
          expect(schema.safeParse(tried).success, `${key}: ${JSON.stringify(value)}`).toBe(true);
          passed++;
        }
      }
      const { [key as keyof typeof base]: _, ...without } = base;
      expect(quickEvent(without) && !schema.safeParse(without).success, `without ${key}`).toBe(false);
    }
    expect(passed > 0).toBe(quickEvent(base));
  });

  it('pass every event of the golden ledgers', () => {
    expect(goldens.flatMap(({ events }) => events).filter((event) => !quickEvent(event))).toEqual([]);
  });

  it.each([null, undefined, 7, 'x', [], {}, { what: 'constructor' }, { what: 'nap' }])(
    'pass no %j',
    (value) => {
      expect(quickEvent(value)).toBe(false);
    },
  );
});

describe('the everyday checks of the head', () => {
  const { events: _, ...head } = goldens[0] as { events: object[]; [key: string]: unknown };

  /** Every path in the head at which a schema says something, with what it says. */
  function places(json: Json, path: string[] = []): [string[], Json][] {
    const inner = Object.entries(json.properties ?? {}).flatMap(([key, value]) =>
      places(value, [...path, key]),
    );
    const named = json.additionalProperties ? places(json.additionalProperties, [...path, 'x1']) : [];
    return [[path, json], ...inner, ...named];
  }

  function withValue(map: unknown, [key, ...rest]: string[], value: unknown): unknown {
    return key === undefined
      ? value
      : { ...(map as object), [key]: withValue((map as Record<string, unknown>)?.[key] ?? {}, rest, value) };
  }

  it('pass no head that the schema refuses', () => {
    let passed = 0;
    const sound = {
      ...head,
      baths: { ...(head.baths as object), x1: { mark_ml: 1, length_mm: 1, width_mm: 1, freeboard_mm: 1 } },
      parts: { x1: { shape: 'solid' } },
    };
    for (const [path, json] of places(jsonOf(HEADER_SCHEMA))) {
      for (const value of around(json)) {
        const tried = withValue(sound, path, value);
        if (quickHead(tried)) {
          expect(HEADER_SCHEMA.safeParse(tried).success, `${path.join('.')}: ${JSON.stringify(value)}`).toBe(
            true,
          );
          passed++;
        }
      }
    }
    expect(passed).toBeGreaterThan(100);
  });

  it('pass a head with every key that its schema has', () => {
    const least = { mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50 };
    const triple = [3, 5, 8];
    const full = {
      format: 'bathbook/1',
      shop: {
        name: 'Cobble Hill Bench',
        timezone: 'America/Halifax',
        currency: 'CAD',
        room_c: 22,
        humidity_pct: 50,
        parts_use: 'models',
        defaults: {
          resin: 'grey',
          drained_min: 10,
          prerinse: PRERINSES[0],
          midrinse: MIDRINSES[0],
          minutes: [5, 5],
          agitation: AGITATIONS[0],
        },
      },
      baths: { dirty: { ...least, lid_open_h: 1, evaporation: 1, moisture: 1, tub_ml: 6000 }, clean: least },
      factors: { carry: 1, drag: 1, dissolution: 1 },
      limits: {
        dirty_resin: triple,
        clean_resin: triple,
        dirty_water: triple,
        clean_water: triple,
        dirty_age_days: 30,
        clean_age_days: 30,
      },
      solvents: { ipa99: { ipa_wt_pct: 99.5, price_per_l: 9 }, ipa70: { ipa_vol_pct: 70 } },
      resins: { grey: { density_g_ml: 1.11, viscosity_mpa_s: 300, refractive_index: 1.49 } },
      parts: {
        block: { shape: 'solid', volume_ml: 20, area_cm2: 60 },
        shell: { shape: 'hollow', wall_mm: 2 },
      },
    };
    expect(HEADER_SCHEMA.safeParse(full).error).toBeUndefined();
    expect(quickHead(full)).toBe(true);
    // None is left out of it by mistake.
    for (const [[...path], json] of places(jsonOf(HEADER_SCHEMA))) {
      if (json.properties === undefined || path.includes('x1')) continue;
      const there = path.reduce((map: unknown, key) => (map as Record<string, unknown>)[key], full);
      expect(Object.keys(there as object).toSorted(), path.join('.')).toEqual(
        Object.keys(json.properties).toSorted(),
      );
    }
  });

  it('pass every golden head', () => {
    expect(goldens.map(({ events, ...rest }) => quickHead(rest))).toEqual(goldens.map(() => true));
  });
});

it('the line writer knows every key of every kind', () => {
  for (const kind of EVENT_KINDS) {
    expect(keyOrder(kind).toSorted(), kind).toEqual(Object.keys(EVENT_SCHEMAS[kind].shape).toSorted());
  }
});
