import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { urgencyOfAll } from '../../src/commands/many-exit.ts';

describe('the exit code of several ledgers', () => {
  it.each([
    [[0, 0], 0],
    [[0, 1], 1],
    [[1, 2, 0], 2],
    [[0, 3], 3],
    [[1, 3], 3],
    [[2, 3], 3],
    [[2, 66], 3],
    [[0, 65], 3],
    [[66, 65], 3],
    [[], 0],
  ])('of %j is %i', (codes, wanted) => {
    expect(urgencyOfAll(codes)).toBe(wanted);
  });

  it('shows that one was not judged, else the most urgent, in any order', () => {
    const codes = fc.array(fc.constantFrom(0, 1, 2, 3, 65, 66, 74), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(codes, (some) => {
        const code = urgencyOfAll(some);
        expect(code === 3).toBe(some.some((one) => one > 2));
        expect(code >= 2).toBe(some.some((one) => one >= 2));
        expect(code >= 1).toBe(some.some((one) => one >= 1));
        expect(urgencyOfAll([...some].reverse())).toBe(code);
        expect(urgencyOfAll([...some, 0])).toBe(code);
      }),
    );
  });
});
