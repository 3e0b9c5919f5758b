import { describe, expect, it } from 'vitest';
import { habitsOf, layOut } from '../../src/compare/habits.ts';
import { joinPart, type Part, PartRunner } from '../../src/compare/part.ts';
import { type Draft, FILLED, headerOf, OPEN } from '../bath/bench.ts';
import { basisFrom, practiceFrom } from './bench.ts';

const HEADER = headerOf({ dirty: OPEN, clean: OPEN });
const DRAFTS: Draft[] = [
  ...FILLED,
  { what: 'wash', parts: { model: 6 } },
  { what: 'wash', parts: { splint: 3 } },
];
const basis = basisFrom(HEADER, DRAFTS, 12);
const plants = habitsOf(practiceFrom(HEADER, DRAFTS))
  .slice(0, 4)
  .map(({ practice }) => layOut(practice));
const runAfresh = (plant: number, from: number, to: number): Part =>
  new PartRunner(basis).run(plants[plant]!, from, to);

describe('a piece of work', () => {
  it('is the same whoever does it, and whatever was done before', () => {
    const busy = new PartRunner(basis);
    for (const from of [0, 4, 8])
      plants.forEach((plant, place) => {
        expect(busy.run(plant, from, from + 4)).toEqual(runAfresh(place, from, from + 4));
      });
    // More draws than are kept, backwards.
    for (let draw = 11; draw >= 0; draw -= 1)
      expect(busy.run(plants[0]!, draw, draw + 1)).toEqual(runAfresh(0, draw, draw + 1));
  });

  it('joined with the next is the two in one', () => {
    const joined = runAfresh(1, 0, 4);
    joinPart(joined, runAfresh(1, 4, 12));
    expect(joined).toEqual(runAfresh(1, 0, 12));
    expect(joined.rows).toHaveLength(12);
  });

  it('brings every habit the same loads in the same draw', () => {
    // The mix of loads shows in parts a wash, which no habit changes; whole cycles end on different days.
    const mix = plants.map((_, place) => runAfresh(place, 0, 1).rows[0]!);
    for (const { parts, washes } of mix)
      expect(parts / washes / (mix[0]!.parts / mix[0]!.washes)).toBeCloseTo(1, 1);
  });

  it('is another with another seed', () => {
    const other = new PartRunner({ ...basis, seed: 2 }).run(plants[0]!, 0, 4);
    expect(other.rows).not.toEqual(runAfresh(0, 0, 4).rows);
  });

  it('can be handed from thread to thread', () => {
    expect(new PartRunner(structuredClone(basis)).run(structuredClone(plants[0]!), 0, 2)).toEqual(runAfresh(0, 0, 2)); // biome-ignore format: one line
  });
});
