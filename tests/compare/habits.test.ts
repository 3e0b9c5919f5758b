/** Every habit differs from what the shop does in one thing: seen in the flat numbers that are run. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Habit, habitsOf, isAllowed, layOut, type Practice } from '../../src/compare/habits.ts';
import type { Plant } from '../../src/compare/plant.ts';
import type { Header } from '../../src/ledger/header.ts';
import { type Draft, FILLED, headerOf, OPEN, PAIR } from '../bath/bench.ts';
import { habitNamed, practiceFrom } from './bench.ts';

const wash = (more: Partial<Extract<Draft, { what: 'wash' }>> = {}): Draft => ({
  what: 'wash',
  parts: { model: 4 },
  ...more,
});
const WASHES = [wash({ minutes: [3, 8] }), wash({ parts: { mask: 2 }, prerinse: 'spray', minutes: [4, 4] })];
const AIRY = headerOf({ dirty: OPEN, clean: { ...OPEN, mark_ml: 3000, tub_ml: 3900, lid_open_h: 2 } });
const PAIRED = practiceFrom(AIRY, [...FILLED.slice(0, 1), { ...FILLED[1]!, ml: 3000 } as Draft, ...WASHES]);

function filled(...baths: string[]): Draft[] {
  return baths.map((bath): Draft => ({ what: 'fill', bath, solvent: 'ipa99', ml: 4000 }));
}

function inBathsNamed(names: string[], washes: Draft[] = WASHES, more: Partial<Header> = {}): Practice {
  const header = headerOf(Object.fromEntries(names.map((name) => [name, { ...OPEN }])), more);
  const minutes = names.map((_, at) => 3 + at);
  return practiceFrom(header, [
    ...filled(...names),
    ...washes.map((one) => ({ ...one, baths: names, minutes }) as Draft),
  ]);
}

const ONE = inBathsNamed(['tub']);
const THREE = inBathsNamed(['first', 'second', 'third']);
const names = (practice: Practice) => habitsOf(practice).map(({ name }) => name);

/** Keys of the flat numbers that differ, like "baths.markMl". */
function differing(one: Plant, other: Plant): string[] {
  const flat = (plant: Plant): [string, string][] =>
    Object.entries(plant).flatMap(([key, value]) =>
      typeof value === 'object' && !Array.isArray(value)
        ? Object.entries(value).map(([inner, held]): [string, string] => [`${key}.${inner}`, String(held)])
        : [[key, String(value)] as [string, string]],
    );
  const others = new Map(flat(other));
  return flat(one)
    .filter(([key, value]) => others.get(key) !== value)
    .map(([key]) => key)
    .sort();
}

/** What each kind of habit may touch. The air above a surface depends on its size, mean properties of several resins on what each brings. */
const TOUCHES: Record<Exclude<Habit['subject'], 'now'>, RegExp> = {
  limit: /^changeAt$/,
  baths: /^(rule|count|places|baths\.\w+|loads\.(soak|givenDragMl))$/,
  size: /^baths\.(markMl|brimMl|surfaceM2|\w+Drive|\w+Rim|\w+Layer)$/,
  draining: /^loads\.filmG$|^liquids\.(resin20|resinDensityRoom|logResinViscosity)$/,
  rinsing: /^loads\.(prerinse|midrinse)Share$|^liquids\.(resin20|resinDensityRoom|logResinViscosity)$/,
  soaking: /^loads\.soak$/,
  lids: /^baths\.duty$/,
};

const PRACTICES: [string, Practice][] = [
  ['two baths', PAIRED],
  ['one bath', ONE],
  ['one bath called dirty', inBathsNamed(['dirty'])],
  ['one bath called clean', inBathsNamed(['clean'])],
  ['one bath called middle', inBathsNamed(['middle'])],
  ['two with names of their own', inBathsNamed(['middle', 'end'])],
  ['three baths', THREE],
  ['four baths', inBathsNamed(['a', 'b', 'c', 'd'])],
  ['a carry-over and drag-outs that were given', practiceFrom(PAIR, [...FILLED, wash({ carry_g: 5, drag_ml: [7, 9] })])],
  ['loads without parts', practiceFrom(PAIR, [...FILLED, { what: 'wash', volume_ml: 90, area_cm2: 200 }])],
  ['several resins', practiceFrom(AIRY, [...FILLED, wash(), wash({ resin: 'tough', drained_min: 90 })])],
  ['limits of its own', inBathsNamed(['dirty', 'clean'], WASHES, { limits: { dirty_resin: [6, 7, 9] } })],
  ['parts for the mouth', inBathsNamed(['dirty', 'clean'], WASHES, { shop: { parts_use: 'body-contact' } })],
]; // biome-ignore format: one practice a line

describe.each(PRACTICES)('the habits of %s', (_, now) => {
  const all = habitsOf(now);

  it('begin with what the shop does', () => {
    expect(all[0]).toMatchObject({ subject: 'now', practice: now });
    expect(all.filter(({ subject }) => subject === 'now')).toHaveLength(1);
  });

  it('each change something, and nothing but their subject', () => {
    for (const { name, subject, practice } of all) {
      if (subject === 'now') continue;
      const differs = differing(layOut(practice), layOut(now));
      expect(differs.length, name).toBeGreaterThan(0);
      for (const key of differs) expect(key, name).toMatch(TOUCHES[subject]);
    }
  });

  it('have names of their own that read as words', () => {
    const said = all.map(({ name }) => name);
    expect(new Set(said).size).toBe(said.length);
    for (const name of said) expect(name).toMatch(/^[a-z]+( (\d+(\.\d{1,2})?|wt%|\/|[a-z]+))+$/);
    for (const name of said) expect(name).not.toMatch(/undefined|null|nan|infinity/i);
  });

  it('keep the whole soak of every load', () => {
    const whole = (practice: Practice) =>
      practice.washes.map(({ minutes }) => minutes!.reduce((sum, one) => sum + one, 0));
    for (const { name, practice } of all) {
      whole(practice).forEach((minutes, load) => {
        expect(minutes, name).toBeCloseTo(whole(now)[load]!, 9);
      });
    }
  });

  it('have as many baths as their names say, each of its own, with numbers for all of them', () => {
    for (const { practice } of all) {
      const plant = layOut(practice);
      expect(new Set(practice.route).size).toBe(practice.route.length);
      expect(plant.count).toBe(practice.route.length);
      expect(plant.places).toHaveLength(plant.count);
      for (const place of plant.places) expect(now.places).toContain(place);
      for (const numbers of Object.values(plant.baths)) {
        expect(numbers).toHaveLength(plant.count);
        for (const number of numbers) expect(number).toBeGreaterThanOrEqual(0);
      }
      expect(plant.loads.soak).toHaveLength(plant.count * now.washes.length);
    }
  });

  it('never use a bath up to what the ledger calls never', () => {
    for (const { practice } of all.filter(({ subject }) => subject === 'limit'))
      expect(isAllowed(practice, practice.changeAt)).toBe(true);
  });
});

describe('habits', () => {
  it('of a pair are these', () => {
    expect(names(PAIRED)).toEqual([
      'rotate at 10 / 2 wt%',
      'rotate at 5 / 1 wt%',
      'rotate at 7.5 / 1.5 wt%',
      'rotate at 12.5 / 2.5 wt%',
      'rotate at 15 / 3 wt%',
      'refill all at 10 / 2 wt%',
      'one bath',
      'three baths in turn',
      'baths of half the size',
      'baths of twice the size',
      'drain 30 min',
      'drain 12 h',
      'brush before the first bath',
      'spin before the first bath',
      'brush between the baths',
      'stir the baths',
      'lids open half as long',
    ]);
  });

  it('of one bath leave out what needs two', () => {
    expect(names(ONE)[0]).toBe('change at 2 wt%');
    expect(names(ONE).join()).not.toMatch(/rotate|refill all|between|one bath/);
    expect(names(ONE)).toContain('two baths in turn');
  });

  it('of three baths offer one and two', () => {
    expect(names(THREE)).toEqual(expect.arrayContaining(['one bath', 'two baths in turn']));
    expect(names(THREE)).not.toContain('three baths in turn');
    expect(names(THREE)[0]).toBe('rotate at 10 / 10 / 2 wt%');
  });

  it.each([
    ['tub', 'dirty / tub'],
    ['dirty', 'dirty / clean'],
    ['clean', 'dirty / clean'],
  ])('put beside the one bath %s another, as %s', (name, route) => {
    const { practice } = habitNamed(inBathsNamed([name]), 'two baths in turn');
    expect(practice.route.join(' / ')).toBe(route);
    // Dirty and clean limits of MODEL 7.
    expect([...layOut(practice).baths.resinLimit]).toEqual([0.1, 0.02]);
  });

  it('leave out limits that come to what the ledger calls never', () => {
    // 7 wt% never above 9: a quarter more, 8.75, is below it, half as much again is not.
    const own = inBathsNamed(['dirty', 'clean'], WASHES, { limits: { dirty_resin: [6, 7, 9] } });
    expect(names(own)).toContain('rotate at 8.75 / 2.5 wt%');
    expect(names(own).join()).not.toContain('10.5');
    const narrow = inBathsNamed(['dirty', 'clean'], WASHES, { limits: { dirty_resin: [6, 8.9, 9] } });
    expect(
      habitsOf(narrow).filter(({ subject, practice }) => subject === 'limit' && practice.changeAt > 1),
    ).toEqual([]);
    expect(isAllowed(narrow, 1)).toBe(true);
  });

  it('leave out what changes nothing', () => {
    // Spraying and brushing take off alike (data/SOURCES.md, DEFAULTS), a film is no thinner than 2 mg/cm², from 121 min on at 400 mPa·s.
    const careful = practiceFrom(headerOf({ dirty: OPEN, clean: OPEN }, { shop: { room_c: 25 } }), [
      ...FILLED,
      wash({ prerinse: 'spray', midrinse: 'spray', drained_min: 150, agitation: 'stirred' }),
    ]);
    expect(names(careful).join()).not.toMatch(/brush|drain|stir/);
    expect(names(careful)).toContain('spin before the first bath');
    const sealed = practiceFrom(PAIR, [...FILLED, wash()]);
    expect(names(sealed).join()).not.toContain('lids');
    const shut = practiceFrom(
      headerOf({ dirty: { ...OPEN, lid_open_h: 0 }, clean: { ...OPEN, lid_open_h: 0 } }),
      [...FILLED, wash()],
    );
    expect(names(shut).join()).not.toContain('lids');
    const weighed = practiceFrom(PAIR, [...FILLED, wash({ carry_g: 4 })]);
    expect(names(weighed).join()).not.toMatch(/drain|before the first bath/);
  });

  it('drain no load for a shorter time than it is drained', () => {
    const now = practiceFrom(PAIR, [...FILLED, wash({ drained_min: 5 }), wash({ drained_min: 45 })]);
    const { practice } = habitNamed(now, 'drain 30 min');
    expect(practice.washes.map(({ drained_min }) => drained_min)).toEqual([30, 45]);
  });

  it('leave an ultrasonic bath as it is', () => {
    const now = practiceFrom(PAIR, [
      ...FILLED,
      wash({ agitation: 'still' }),
      wash({ agitation: 'ultrasonic' }),
    ]);
    const { practice } = habitNamed(now, 'stir the baths');
    expect(practice.washes.map(({ agitation }) => agitation)).toEqual(['stirred', 'ultrasonic']);
  });

  it('of another size keep the depth: mark, brim and surface go together', () => {
    const plain = layOut(PAIRED).baths;
    for (const [name, factor] of [
      ['baths of half the size', 0.5],
      ['baths of twice the size', 2],
    ] as const) {
      const { baths } = layOut(habitNamed(PAIRED, name).practice);
      for (const bath of [0, 1]) {
        for (const key of ['markMl', 'brimMl', 'surfaceM2'] as const)
          expect(baths[key][bath]).toBeCloseTo(factor * plain[key][bath]!, 9);
      }
      expect(baths.freeboardM).toEqual(plain.freeboardM);
    }
  });

  it('keep the drag-out that was given: that of the first bath, and for all others that of the last', () => {
    const now = practiceFrom(PAIR, [...FILLED, wash({ carry_g: 5, drag_ml: [7, 9] })]);
    const drag = (name: string) => [...layOut(habitNamed(now, name).practice).loads.givenDragMl];
    expect(drag('one bath')).toEqual([9]);
    expect(drag('three baths in turn')).toEqual([7, 9, 9]);
  });

  it('can be laid out whatever the drafts hold', () => {
    const oneOf = <T>(...values: T[]) => fc.constantFrom(...values);
    const any = fc.record({
      prerinse: oneOf('none', 'spray', 'brush', 'spin'),
      midrinse: oneOf('none', 'spray', 'brush'),
      agitation: oneOf('still', 'hand', 'stirred', 'ultrasonic'),
      drained_min: fc.integer({ min: 0, max: 2000 }),
      minutes: fc.tuple(fc.integer({ min: 0, max: 30 }), fc.integer({ min: 0, max: 30 })),
    });
    fc.assert(
      fc.property(fc.array(any, { minLength: 1, maxLength: 4 }), (washes) => {
        const now = practiceFrom(AIRY, [...FILLED, ...washes.map((one) => wash(one as object))]);
        for (const { subject, practice } of habitsOf(now)) {
          if (subject === 'now') continue;
          expect(differing(layOut(practice), layOut(now)).length).toBeGreaterThan(0);
        }
      }),
      { numRuns: 40 },
    );
  });
});
