/**
 * Signs that steer, by what Unicode's own tables say of them, as the engine has them: category Cc (control) and Cf (format), Zl, Zp.
 * Of Cf stay those that are seen or that words need.
 */
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { document } from '../../src/render/json.ts';
import { printable, printableJson, shown } from '../../src/render/printable.ts';

const ALL = Array.from({ length: 0x11_0000 }, (_, point) => point).filter(
  (point) => point < 0xd800 || point > 0xdfff,
);
const taken = ALL.filter((point) => printable(String.fromCodePoint(point)) === '\ufffd' && point !== 0xfffd);
const inTable = (table: RegExp) => ALL.filter((point) => table.test(String.fromCodePoint(point)));

describe('what is printable', () => {
  it('is no control character, no separator of lines and nothing that turns the direction of writing', () => {
    const steering = inTable(/[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}]/u);
    expect(steering.length).toBeGreaterThan(70);
    expect(steering.filter((point) => !taken.includes(point))).toEqual([]);
  });

  it('is all else but format characters: no letter, mark, number, sign or blank is taken', () => {
    const harmless = new Set(inTable(/[\p{L}\p{M}\p{N}\p{P}\p{S}\p{Zs}]/u));
    expect(taken.filter((point) => harmless.has(point))).toEqual([]);
  });

  it('keeps joiners, without which words and emoji fall apart', () => {
    for (const word of ['می‌خواهم', '👩‍🔬', 'क्‍ष']) expect(printable(word)).toBe(word);
  });

  it('shows where something was', () => {
    expect(printable('a\u001b[2Jb\u009bc\u202ed\r\n')).toBe('a\ufffd[2Jb\ufffdc\ufffdd\ufffd\ufffd');
    expect(printable('\u{e0041}')).toBe('\ufffd');
  });
});

describe('lines for a person', () => {
  it('keep their breaks, tabs and colours, and nothing else that steers', () => {
    const painted = '\u001b[1;31mstop\u001b[0m\tdirty\n\tüß 字\n';
    expect(shown(painted)).toBe(painted);
    expect(shown('a\u001b[2Jb\u001b]0;m\u0007\r\n\u202e\u{e006d}')).toBe(
      'a\ufffd[2Jb\ufffd]0;m\ufffd\ufffd\n\ufffd\ufffd',
    );
  });
});

describe('JSON that is printed', () => {
  const text = fc.string({ unit: 'binary' });

  it('says the same and steers nothing', () => {
    fc.assert(
      fc.property(
        fc.dictionary(text, fc.oneof(text, fc.array(text), fc.double({ noNaN: true }))),
        (value) => {
          const plain = JSON.stringify(value, null, 2);
          const shown = printableJson(plain);
          expect(JSON.stringify(JSON.parse(shown))).toBe(JSON.stringify(JSON.parse(plain)));
          expect(printable(shown.replaceAll('\n', ' '))).toBe(shown.replaceAll('\n', ' '));
        },
      ),
    );
  });

  it('is the envelope of every document', () => {
    const name = '\u009b2J\u202e\u{e0041}\u2028';
    const shown = document({ name: 'x', version: '1', asOf: 'now', data: { [name]: name } });
    expect(shown).not.toMatch(/[\u0080-\u009f\u202e\u2028]/);
    expect((JSON.parse(shown) as { data: object }).data).toEqual({ [name]: name });
  });
});
