/** What stands in an explanation is true: a calculator given the numbers shown gets the result shown, and that is what the program works with. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { openShop } from '../../src/bath/shop.ts';
import { resinMass } from '../../src/bath/state.ts';
import type { Explanation } from '../../src/explain/equation.ts';
import { type Seen, seeShop } from '../../src/explain/seen.ts';
import { TOPIC_OF } from '../../src/explain/topic-names.ts';
import { TOPICS, topicOf } from '../../src/explain/topics.ts';
import type { Entry } from '../../src/ledger/event.ts';
import type { Header } from '../../src/ledger/header.ts';
import { readLedger } from '../../src/ledger/read.ts';
import { settle } from '../../src/ledger/settle.ts';
import { catalogue } from '../../src/substance/catalogue.ts';
import { anyDrafts, anyHeader } from '../bath/arbitrary.ts';
import { entriesOf, FILLED, headerOf, OPEN, START_MS } from '../bath/bench.ts';
import { calculated, halfOfLastDigit, shown } from './calculator.ts';

/** Every topic of everything it can be of. */
function everything(seen: Seen): Explanation[] {
  const { estimates } = seen.status;
  return TOPICS.flatMap((topic): (Explanation | null)[] => {
    switch (topic.of) {
      case 'bath':
        return estimates.flatMap(({ resinWtPct, beyondModel }, place) =>
          resinWtPct === null || beyondModel ? [] : [topic.explain(seen, place, 'carry on')],
        );
      case 'wash':
        return seen.wash ? [topic.explain(seen, seen.wash)] : [];
      case 'solvent':
        return [...seen.shop.solvents.keys()].map((name) => topic.explain(seen, name));
      case 'shop':
        return [topic.explain(seen)];
      default:
        return topic satisfies never;
    }
  }).filter((one) => one !== null);
}

/** Relative to the largest number in it: a sum of grams that come and go can be nothing. */
const SAME = 1e-9;

function hold(explanation: Explanation): void {
  for (const { formula, numbers, result, value, terms, symbol, about } of explanation.equations) {
    const what = `${explanation.topic}, ${about}: ${symbol} = ${numbers} = ${result}`;
    const values = Object.fromEntries(terms.map((one) => [one.symbol, one.value]));
    const scale = Math.max(
      Math.abs(value),
      ...(/[×/(]/.test(formula) ? [] : Object.values(values).map(Math.abs)),
    );
    expect(Math.abs(calculated(formula, values) - value), what).toBeLessThanOrEqual(SAME * scale);
    expect(Math.abs(calculated(numbers) - shown(result)), what).toBeLessThanOrEqual(
      halfOfLastDigit(result) + 1e-12 * scale,
    );
    expect(Math.abs(shown(result) - value), what).toBeLessThanOrEqual(halfOfLastDigit(result));
  }
}

describe('the sample shop, with readings, explained', () => {
  let header: Header;
  let entries: Entry[];
  let clockMs: number;
  let seen: Seen;

  beforeAll(async () => {
    const file = await readLedger(readFileSync(new URL('../../data/demo.yaml', import.meta.url)), catalogue);
    header = file.header!;
    clockMs = Math.max(...file.events.map(({ atMs }) => atMs)) + 36 * 3_600_000;
    entries = (await settle(file.events, clockMs, header, catalogue)).entries;
    seen = seeShop({ shop: openShop(header), header, entries, clockMs });
  });

  it('holds for every number of it', () => {
    const all = everything(seen);
    expect(all.length).toBeGreaterThan(TOPICS.length);
    for (const one of all) hold(one);
  });

  it('holds for each of its washes, early ones too', () => {
    const washes = entries.filter(({ event }) => event.what === 'wash').map(({ event }) => event.id);
    expect(washes.length).toBeGreaterThan(50);
    for (const washId of washes.filter((_, nth) => nth % 9 === 0)) {
      const one = seeShop({ shop: openShop(header), header, entries, clockMs, washId });
      expect(one.wash?.event.id).toBe(washId);
      for (const topic of TOPICS) if (topic.of === 'wash') hold(topic.explain(one, one.wash!));
    }
  });

  it('says which numbers readings have moved, and which nobody has measured', () => {
    const carry = topicOf('carry')!;
    const latest = carry.of === 'wash' ? carry.explain(seen, seen.wash!) : null;
    const basisOf = (symbol: string) =>
      latest!.equations.flatMap(({ terms }) => terms).find((one) => one.symbol === symbol)?.basis;
    expect(basisOf('κ_c')).toBe('readings');
    expect(basisOf('x')).toBe('default');
    expect(basisOf('µ_25')).toBe('ledger');
    const first = entries.find(({ event }) => event.what === 'wash')!.event.id;
    const early = seeShop({ shop: openShop(header), header, entries, clockMs, washId: first });
    const terms =
      carry.of === 'wash' ? carry.explain(early, early.wash!).equations.flatMap((one) => one.terms) : [];
    expect(terms.find(({ symbol }) => symbol === 'κ_c')).toMatchObject({ value: 1, basis: 'default' });
  });
});

describe('any shop explained', () => {
  it('holds, whatever was logged', () => {
    fc.assert(
      fc.property(anyHeader, anyDrafts, fc.integer({ min: 0, max: 2000 }), (header, drafts, hours) => {
        const entries = entriesOf(drafts);
        const clockMs = Math.max(START_MS, ...entries.map(({ atMs }) => atMs)) + hours * 3_600_000;
        const seen = seeShop({ shop: openShop(header), header, entries, clockMs });
        for (const one of everything(seen)) hold(one);
      }),
      { numRuns: 60 },
    );
  });

  it('tells where all resin of three baths came from', () => {
    const header = headerOf({ dirty: OPEN, middle: OPEN, clean: OPEN });
    const baths = ['dirty', 'middle', 'clean'];
    const entries = entriesOf([
      ...baths.map((bath) => ({ what: 'fill', bath, solvent: 'ipa99', ml: 4000 }) as const),
      { what: 'wash', parts: { model: 6 }, baths, minutes: [5, 5, 5], hour: 10 },
      {
        what: 'wash',
        parts: { model: 4 },
        baths: ['middle', 'dirty', 'middle'],
        minutes: [5, 5, 5],
        hour: 20,
      },
      { what: 'top-up', bath: 'dirty', from: 'clean', ml: 300, hour: 30 },
    ] as never);
    const seen = seeShop({ shop: openShop(header), header, entries, clockMs: START_MS + 50 * 3_600_000 });
    expect(seen.status.replayed.refused).toEqual([]);
    seen.histories.forEach(({ balance, loads }, place) => {
      const { start, dissolved, film, out, moved, air, readings } = balance.resin;
      const sum = start + dissolved + film + out + moved + air + readings;
      expect(sum).toBeCloseTo(resinMass(seen.status.replayed.baths[place]!), 10);
      expect(Math.abs(readings)).toBeLessThan(1e-12);
      expect(loads).toBe(place === 2 ? 1 : 2);
    });
  });

  it('of one that has only been filled holds, with nothing to say of washes', () => {
    const header = headerOf({ dirty: OPEN, clean: OPEN });
    const seen = seeShop({
      shop: openShop(header),
      header,
      entries: entriesOf(FILLED),
      clockMs: START_MS + 1e9,
    });
    expect(seen.wash).toBeNull();
    const all = everything(seen);
    expect(all.some(({ topic }) => topic === 'loads-left')).toBe(false);
    for (const one of all) hold(one);
  });
});

describe('the words for a number', () => {
  it('are those that a shell completes', () => {
    expect(Object.fromEntries(TOPICS.map(({ name, of }) => [name, of]))).toEqual(TOPIC_OF);
  });

  it('lead to one topic each', () => {
    const words = TOPICS.flatMap(({ name, also }) => [name, ...also]);
    expect(new Set(words).size).toBe(words.length);
    for (const word of words) expect(topicOf(word.toUpperCase())).toBeDefined();
    expect(topicOf('nothing')).toBeUndefined();
  });

  it('name sources that the package describes', () => {
    const known = readFileSync(new URL('../../data/SOURCES.md', import.meta.url), 'utf8');
    const header = headerOf({ dirty: OPEN, clean: OPEN });
    const entries = entriesOf([...FILLED, { what: 'wash', parts: { model: 6 }, hour: 5 }] as never);
    const seen = seeShop({ shop: openShop(header), header, entries, clockMs: START_MS + 1e8 });
    const ids = new Set(
      everything(seen).flatMap(({ equations }) => equations.flatMap(({ sources }) => sources)),
    );
    expect(ids.size).toBeGreaterThan(8);
    for (const id of ids)
      expect(known, id).toMatch(new RegExp(`\\*\\*(?:[\\w.]+, )*${id}(?:, [\\w.]+)*\\*\\*|^## ${id}$`, 'm'));
  });
});
