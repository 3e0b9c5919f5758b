/** Words that stand without quotes. YAML 1.1 and 1.2 say which they read as something else; other parsers are asked in line.test.ts. */
import { describe, expect, it } from 'vitest';
import { familiar, isPlainKey, isPlainWord } from '../../src/ledger/plain-word.ts';
import { isPlainSign, isPrintable } from '../../src/ledger/signs.ts';

// https://yaml.org/type/bool.html and null.html (YAML 1.1); YAML 1.2.2, 10.3.2.
const TAKEN = ['null', 'true', 'false', 'yes', 'no', 'on', 'off', 'y', 'n'];

describe('a word', () => {
  it.each(TAKEN.flatMap((word) => [word, word.toUpperCase(), word[0]!.toUpperCase() + word.slice(1)]))(
    '%s is taken',
    (word) => {
      expect([isPlainWord(word), isPlainKey(word), familiar(word)]).toEqual([false, false, undefined]);
    },
  );

  it.each(['model', 'top-up', 'a', 'Yess', 'nulls', 'ipa99', 'x_y'])('%s is plain', (word) => {
    expect([isPlainWord(word), isPlainKey(word), familiar(word), familiar(word)]).toEqual([
      true,
      true,
      word,
      word,
    ]);
  });

  it.each(['', '1a', '-a', 'a b', 'a:', 'a,b', 'é', 'a{', '~', 'a\n'])('%j is not', (word) => {
    expect([isPlainWord(word), isPlainKey(word)]).toEqual([false, false]);
  });

  it('may have points and slashes, a key may not', () => {
    expect([isPlainWord('a.b/c'), isPlainKey('a.b'), isPlainKey('a/c')]).toEqual([true, false, false]);
  });

  it('is given back, however many were met before and however long it is', () => {
    for (let nth = 0; nth < 700; nth += 1) expect(familiar(`word${nth}`)).toBe(`word${nth}`);
    expect(familiar('x'.repeat(100))).toBe('x'.repeat(100));
    expect(familiar('true')).toBeUndefined();
  });
});

describe('a sign', () => {
  it.each([
    [0x9f, false], [0xa0, true], [0xe9, true], [0x2027, true], [0x2028, false], [0x2029, false], [0x202a, true], [0xfefe, true], [0xfeff, false],
    [0xff00, true], [0xfffd, true], [0xfffe, false], [0xffff, false],
  ])('U+%i beyond ASCII is plain: %s', (code, plain) => {
    expect(isPlainSign(code)).toBe(plain);
  }); // biome-ignore format: a table

  it('of a remark may be printed', () => {
    expect(isPrintable('a é ~', 0, 5)).toBe(true);
    for (const odd of ['a\tb', 'a\u007f', 'a\u0085', '\u2028', '\ufeff', '\0'])
      expect(isPrintable(odd, 0, odd.length), JSON.stringify(odd)).toBe(false);
    expect(isPrintable('\tab\t', 1, 3)).toBe(true);
  });
});
