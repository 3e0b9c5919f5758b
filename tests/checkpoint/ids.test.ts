import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hashesOf, hashOf, holdTwice, idsOf, mayHold } from '../../src/checkpoint/ids.ts';

const ids = fc.array(fc.string({ minLength: 1, maxLength: 8 }), { maxLength: 60 });

describe('the ids of a ledger', () => {
  it('hold each that was put in, in whatever lists it came', () => {
    fc.assert(
      fc.property(ids, ids, (some, others) => {
        const all = idsOf([hashesOf(some), hashesOf(others)]);
        for (const id of [...some, ...others]) expect(mayHold(all, id)).toBe(true);
      }),
    );
  });

  it('of a hundred thousand hold no other, and none twice', () => {
    const all = idsOf([hashesOf(Array.from({ length: 100_000 }, (_, nth) => `e${nth}`))]);
    const others = Array.from({ length: 100_000 }, (_, nth) => `k${nth.toString(30)}`);
    expect(others.filter((id) => mayHold(all, id))).toEqual([]);
    expect(holdTwice(all)).toBe(false);
    expect(holdTwice(idsOf([all, hashesOf(['e77'])]))).toBe(true);
  });

  it('are told apart by letters beyond the first 256 as well', () => {
    expect(hashOf('\u0161')).not.toBe(hashOf('a'));
    expect(hashOf('\u0161')).not.toBe(hashOf('\u0061'));
  });
});
