import { expect, it } from 'vitest';
import { newId } from '../../src/ledger/id.ts';

it('draws five characters that cannot be taken for others', () => {
  for (let n = 0; n < 1000; n++) {
    expect(newId(() => false, Math.random)).toMatch(/^[2-9a-hj-kmnp-z]{5}$/);
  }
});

it('draws again when the id is taken', () => {
  const taken = new Set<string>();
  let seed = 0;
  const fewNumbers = (): number => {
    seed = (seed * 5 + 3) % 16;
    return seed / 16;
  };
  for (let n = 0; n < 3; n++) {
    taken.add(newId((id) => taken.has(id), fewNumbers));
  }
  expect(taken.size).toBe(3);
});

it('takes each of the thirty-one signs as often as another, to the last of them', () => {
  // Draws at the middles of thirty-one equal parts of [0, 1), and at both of its ends.
  const at = (part: number) =>
    newId(
      () => false,
      () => part,
    )[0]!;
  const signs = Array.from({ length: 31 }, (_, nth) => at((nth + 0.5) / 31));
  expect(signs.join('')).toBe('23456789abcdefghjkmnpqrstuvwxyz');
  expect([at(0), at(1 - 2 ** -53)]).toEqual(['2', 'z']);
});
