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
