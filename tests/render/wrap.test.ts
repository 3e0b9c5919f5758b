/** Lines broken between words: the width is what a person sees, and a figure is read in one piece. */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wrap } from '../../src/render/wrap.ts';

const ESC = String.fromCharCode(27);

describe('a text that is broken', () => {
  it('takes colours for nothing', () => {
    const red = `${ESC}[1m${ESC}[31mstop (empty)${ESC}[39m${ESC}[22m`;
    expect(wrap(`empty  ${red}`, 19)).toBe(`empty  ${red}`);
    expect(wrap(`empty  ${red}`, 18).split('\n')).toHaveLength(2);
  });

  it('keeps a number with its unit, its band, and the next number of a sum', () => {
    expect(wrap('drained 10 min, 5 + 5 min, still', 11)).toBe('drained\n10 min,\n5 + 5 min,\nstill');
    expect(wrap('until it reaches 2 wt% resin', 19)).toBe('until it reaches\n2 wt% resin');
    expect(wrap('carry-over 1.05 (0.71–1.60)', 22)).toBe('carry-over\n1.05 (0.71–1.60)');
    expect(wrap('gqb96 (9.7 sd), nsmht (21.5 sd);', 28)).toBe('gqb96 (9.7 sd), nsmht\n(21.5 sd);');
    expect(wrap('about 0.6 (0.2–1.4) g/L.', 21)).toBe('about\n0.6 (0.2–1.4) g/L.');
  });

  it('keeps what was with what it became', () => {
    expect(wrap('0.09 wt%; 4.00 → 3.99 L  keep', 20)).toBe('0.09 wt%;\n4.00 → 3.99 L  keep');
  });

  it('breaks even those where a line has no room for both', () => {
    expect(wrap('1 (0.5–2) → 3 (1–9) g', 10)).toBe('1 (0.5–2)\n→ 3 (1–9)\ng');
  });

  it('leaves counts of things and remarks in brackets where they fall', () => {
    expect(wrap('6 model + 2 mask', 8)).toBe('6 model\n+ 2 mask');
    expect(wrap('at 17:30 (UTC-04:00)', 10)).toBe('at 17:30\n(UTC-04:00)');
  });

  it('has every word, in its order, and no line too wide but of a single word', () => {
    const word = fc.constantFrom(
      '0.12',
      '→',
      '(1–2)',
      'wt%,',
      '5',
      '+',
      'min',
      'a',
      'solvent',
      'longer-than-a-line',
    );
    fc.assert(
      fc.property(
        fc.array(word, { minLength: 1, maxLength: 30 }),
        fc.integer({ min: 8, max: 40 }),
        (words, width) => {
          const text = words.join(' ');
          const lines = wrap(text, width).split('\n');
          expect(lines.join(' ')).toBe(text);
          for (const line of lines) expect(line.length <= width || !line.includes(' ')).toBe(true);
        },
      ),
    );
  });
});
