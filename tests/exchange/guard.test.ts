import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { guarded, unguarded } from '../../src/exchange/guard.ts';

/** The signs that OWASP, "CSV Injection", names. */
const SIGNS = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

describe('text that a spreadsheet would take for a formula', () => {
  it.each(SIGNS)('%j does not come first any more', (sign) => {
    expect(guarded(`${sign}cmd|' /C calc'!A0`)).toBe(`'${sign}cmd|' /C calc'!A0`);
  });

  it('other text stays as it is, numbers of cases too', () => {
    for (const text of ['26-0117', "it's", "'quoted'", 'a=b', '', ' =1']) expect(guarded(text)).toBe(text);
  });

  it('comes back whole, apostrophes and all, and never starts with such a sign', () => {
    const text = fc.string({
      unit: fc.constantFrom("'", '=', '-', '@', '\t', '\r', 'a', '1', ' '),
      maxLength: 6,
    });
    fc.assert(
      fc.property(fc.oneof(text, fc.string({ unit: 'binary' })), (any) => {
        expect(unguarded(guarded(any))).toBe(any);
        expect(SIGNS).not.toContain(guarded(any).charAt(0));
      }),
      { numRuns: 2000 },
    );
  });
});
