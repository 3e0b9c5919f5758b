import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimal } from '../../src/mesh/decimal.ts';

const read = (text: string) => {
  const bytes = new TextEncoder().encode(`>${text}<`);
  return decimal(bytes, 1, bytes.length - 1);
};

describe('a decimal number out of bytes', () => {
  // The engine's own reading is the outside answer: ECMAScript asks for the nearest double.
  it('is the very double that the engine reads, however it is written', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true });
    const write = fc.constantFrom<(value: number) => string>(
      String,
      (value) => value.toExponential(),
      (value) => value.toExponential(6),
      (value) => value.toPrecision(9),
      (value) => value.toFixed(6),
      (value) => `+${Math.abs(value)}`,
      (value) => value.toExponential(8).replace(/e([+-])(\d)$/, 'E$10$2'),
    );
    fc.assert(
      fc.property(number, write, (value, written) => {
        expect(read(written(value))).toBe(Number(written(value)));
      }),
      { numRuns: 2000 },
    );
  });

  it.each([
    '1.',
    '.5',
    '-.5',
    '00012',
    '1e5',
    '1E-05',
    '-0',
    '123456789012345678901',
    '1e-300',
    '9007199254740993',
  ])('reads %s as the engine does', (text) => {
    expect(read(text)).toBe(Number(text));
  });

  it.each([
    '',
    '-',
    '.',
    'e5',
    '1e',
    '1e+',
    '1,5',
    '1.2.3',
    '0x10',
    'nan',
    'inf',
    '1 ',
    '1e5x',
    '--1',
    '1e99999999',
  ])('does not take %j for a number', (text) => {
    expect(read(text)).toBeNaN();
  });
});
