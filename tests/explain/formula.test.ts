import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namesIn, withNumbers, worthOf } from '../../src/explain/formula.ts';
import { calculated } from './calculator.ts';

const NAMES = ['a', 'κ_c', 'µ_25', 'A_1'];

/** Formulas of the kinds that are shown; powers of what is not below zero, since others have no real value. */
const { formula } = fc.letrec<{ formula: string }>((tie) => ({
  formula: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    fc.constantFrom(...NAMES),
    fc.integer({ min: 0, max: 1_000_000 }).map((n) => (n / 1000).toFixed(3)),
    fc
      .tuple(tie('formula'), fc.constantFrom('+', '−', '×', '/'), tie('formula'))
      .map((parts) => parts.join(' ')),
    tie('formula').map((inner) => `(${inner})`),
    tie('formula').map((inner) => `(−${`(${inner})`})`),
    tie('formula').map((inner) => `sqrt(max(0, ${inner}))`),
    tie('formula').map((inner) => `exp(min(3, ${inner}))`),
    fc.tuple(tie('formula'), tie('formula')).map(([one, other]) => `max(${one}, ${other})`),
    tie('formula').map((inner) => `max(0, ${inner}) ^ (2 / 3)`),
  ),
}));

describe('a formula', () => {
  it('comes to what mathjs makes of it', () => {
    const values = fc.record(
      Object.fromEntries(
        NAMES.map((name) => [name, fc.integer({ min: -50_000, max: 50_000 }).map((n) => n / 1000)]),
      ),
    );
    fc.assert(
      fc.property(formula, values, (text, given) => {
        const ours = worthOf(text, given);
        const theirs = calculated(text, given);
        if (Number.isNaN(theirs)) expect(ours).toBeNaN();
        else if (!Number.isFinite(theirs)) expect(ours).toBe(theirs);
        else expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(theirs)));
      }),
      { numRuns: 400 },
    );
  });

  it('names each of its values once, and no function', () => {
    expect(namesIn('κ_c × A / 1000 + min(A, exp(−µ_25))')).toEqual(['κ_c', 'A', 'µ_25']);
  });

  it('takes numbers in the place of names, whole names only', () => {
    expect(withNumbers('A_1 × A + exp(A)', { A: '7', A_1: '3' })).toBe('3 × 7 + exp(7)');
  });

  it.each(['2 +', '(2', 'b × 2', '2 2', 'exp 2', '2 & 3'])('that is none is a fault: %s', (text) => {
    expect(() => worthOf(text, { a: 1 })).toThrow(/Cannot/);
  });
});
