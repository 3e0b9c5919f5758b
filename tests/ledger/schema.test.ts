import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type * as z from 'zod/mini';
import { checkEvent, explainEvent } from '../../src/ledger/check-event.ts';
import type { EventKind, LedgerEvent } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { EVENT_KINDS, type EVENT_SCHEMAS } from '../../src/ledger/schema.ts';
import type { HEADER_SCHEMA } from '../../src/ledger/schema-header.ts';

type Agrees<A, B> = [A, B] extends [B, A]
  ? [keyof A, keyof B] extends [keyof B, keyof A]
    ? true
    : false
  : false;

/** These two do not compile when a schema and its interface differ. */
const events: {
  [K in EventKind]: Agrees<z.infer<(typeof EVENT_SCHEMAS)[K]>, Extract<LedgerEvent, { what: K }>>;
} = Object.fromEntries(EVENT_KINDS.map((kind) => [kind, true])) as { [K in EventKind]: true };
const header: Agrees<z.infer<typeof HEADER_SCHEMA>, Header> = true;

const AT = '2026-11-02T07:40:00-04:00';
const codes = (value: object): string[] =>
  explainEvent({ id: 'a', at: AT, ...value }, null, () => undefined).map(({ code }) => code);

describe('schemas', () => {
  it('agree with the interfaces', () => {
    expect(Object.values(events).every(Boolean) && header).toBe(true);
  });

  it('are there for every kind of event', () => {
    expect(EVENT_KINDS).toHaveLength(14);
  });

  it('make no code from strings, so that they work where that is forbidden', () => {
    const made = globalThis.Function;
    try {
      globalThis.Function = (() => {
        throw new Error('code from a string');
      }) as unknown as FunctionConstructor;
      expect(
        checkEvent({ id: 'a', at: AT, what: 'fill', bath: 'dirty', solvent: 'x', ml: 1 }, null),
      ).not.toBeNull();
    } finally {
      globalThis.Function = made;
    }
  });
});

describe('the ends of each range', () => {
  const cases: [string, object, string, number, number][] = [
    ['ml of a fill', { what: 'fill', bath: 'b', solvent: 's' }, 'ml', 0.001, 1_000_000],
    ['drained_min', { what: 'wash', area_cm2: 5 }, 'drained_min', 0, 20_160],
    ['carry_g', { what: 'wash', area_cm2: 5 }, 'carry_g', 0, 10_000],
    ['temp_c of a reading', { what: 'reading', bath: 'b', brix: 31 }, 'temp_c', 10, 40],
    ['density_g_ml', { what: 'reading', bath: 'b' }, 'density_g_ml', 0.7, 1.25],
    ['capacity_l', { what: 'waste', container: 'c', action: 'opened' }, 'capacity_l', 0.001, 10_000],
  ];
  it.each(cases)('%s', (_, value, key, least, most) => {
    expect(codes({ ...value, [key]: least })).toEqual([]);
    expect(codes({ ...value, [key]: most })).toEqual([]);
    expect(codes({ ...value, [key]: most * 1.001 })).toEqual(['out-of-range']);
    expect(codes({ ...value, [key]: least - 0.01 })).toEqual(['out-of-range']);
    expect(codes({ ...value, [key]: Number.NaN })).toEqual(['wrong-type']);
    expect(codes({ ...value, [key]: null })).toEqual(['wrong-type']);
  });
});

describe('keys that go together', () => {
  const wash = { what: 'wash' };
  it.each<[string, object, string[]]>([
    ['a wash by volume and area', { ...wash, volume_ml: 5, area_cm2: 9 }, []],
    ['a wash by volume alone', { ...wash, volume_ml: 5 }, []],
    ['a wash by nothing', wash, ['not-one-of']],
    ['a wash by parts and volume', { ...wash, parts: { model: 1 }, volume_ml: 5 }, ['not-together']],
    ['carry-over twice', { ...wash, area_cm2: 1, carry_g: 0, carry_ml: 0 }, ['not-together']],
    ['minutes for one bath that is named', { ...wash, area_cm2: 1, baths: ['clean'], minutes: [5] }, []],
    [
      'minutes for two of one bath',
      { ...wash, area_cm2: 1, baths: ['clean'], minutes: [5, 5] },
      ['wrong-count'],
    ],
    [
      'drag-out of two for one bath',
      { ...wash, area_cm2: 1, baths: ['clean'], drag_ml: [5, 5] },
      ['wrong-count'],
    ],
    ['a top-up from the clean bath', { what: 'top-up', bath: 'dirty', from: 'clean', ml: 5 }, []],
    [
      'a top-up from the clean bath to the mark',
      { what: 'top-up', bath: 'dirty', from: 'clean', to: 'mark' },
      [],
    ],
    [
      'a top-up by volume and to the mark',
      { what: 'top-up', bath: 'dirty', solvent: 's', ml: 5, to: 'mark' },
      ['not-together'],
    ],
    ['a top-up of nothing', { what: 'top-up', bath: 'dirty', solvent: 's' }, ['not-one-of']],
    [
      'a top-up from stock without a solvent',
      { what: 'top-up', bath: 'dirty', from: 'stock', ml: 5 },
      ['missing-key'],
    ],
    ['a drain of all', { what: 'drain', bath: 'dirty', all: true }, []],
    ['a drain of all and some', { what: 'drain', bath: 'dirty', all: true, ml: 5 }, ['not-together']],
    ['a bare rotate', { what: 'rotate' }, []],
    ['a reading of nothing', { what: 'reading', bath: 'dirty' }, ['not-one-of']],
    [
      'a reading of a residue',
      { what: 'reading', bath: 'dirty', residue: { sample_ml: 10, dry_g: 0.16 } },
      [],
    ],
    ['half a residue', { what: 'reading', bath: 'dirty', residue: { sample_ml: 10 } }, ['missing-key']],
    ['sg with its reference', { what: 'reading', bath: 'dirty', sg: 0.79, sg_ref: '60/60F' }, []],
    [
      'a reference without sg',
      { what: 'reading', bath: 'dirty', brix: 31, sg_ref: '20/20' },
      ['not-together'],
    ],
    ['stock counted as none left', { what: 'stock', solvent: 's', counted_ml: 0 }, []],
    ['stock of nothing', { what: 'stock', solvent: 's' }, ['not-one-of']],
    [
      'an amend of what it names',
      { what: 'amend', of: 'b', set: { of: 'c' }, why: 'x' },
      ['amend-fixed-key'],
    ],
    [
      'an entry logged four minutes ahead by another clock',
      { what: 'rotate', logged: '2026-11-02T07:36:00-04:00' },
      [],
    ],
    [
      'an entry logged an hour ahead',
      { what: 'rotate', logged: '2026-11-02T06:40:00-04:00' },
      ['logged-before-at'],
    ],
  ])('%s', (_, value, wanted) => {
    expect(codes(value)).toEqual(wanted);
  });
});

it('the format page of the project and the schemas name the same events', () => {
  const types = readFileSync(new URL('../../src/ledger/event.ts', import.meta.url), 'utf8');
  const named = [...types.matchAll(/ {2}what: '([a-z-]+)';/g)].map((match) => match[1]);
  expect(named).toEqual(EVENT_KINDS);
});
