import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readBashLine } from '../../src/commands/complete-line.ts';
import { missing, wordsOfBash } from './terminal.ts';

const BREAKS = ' \t\n"\'@><=;|&(:';
const lacking = missing('bash');

/** Printable text of every kind of sign that a shell knows, and some that it does not. */
const text = fc
  .array(fc.constantFrom(...' abAB09_-./:=@,;|&<>()[]{}$`"\'\\!*?#~%^+é山'), { minLength: 1, maxLength: 12 })
  .map((signs) => signs.join(''));

describe('a line of bash', () => {
  it.each([
    ['bathbook wash 6 mo', ['bathbook', 'wash', '6'], 'mo'],
    ['bathbook wash ', ['bathbook', 'wash'], ''],
    [
      'bathbook wash --case "26 0" --note \'a b\' x\\ y',
      ['bathbook', 'wash', '--case', '26 0', '--note', 'a b'],
      'x y',
    ],
    ['bathbook rotate --into "can 1', ['bathbook', 'rotate', '--into'], 'can 1'],
    ['ls; bathbook ba', ['bathbook'], 'ba'],
    ['true && bathbook ', ['bathbook'], ''],
    ['bathbook wash "" ', ['bathbook', 'wash', ''], ''],
  ])('%s', (line, words, typed) => {
    expect(readBashLine(line, BREAKS)).toMatchObject({ words, typed, redirects: false });
  });

  it('has a file behind a redirection, which is no word of the command', () => {
    expect(readBashLine('bathbook baths > o', BREAKS)).toMatchObject({ redirects: true });
    expect(readBashLine('bathbook baths > out --j', BREAKS)).toMatchObject({
      words: ['bathbook', 'baths'],
      typed: '--j',
    });
  });

  it('is left alone where the word at the cursor is run first', () => {
    for (const line of ['bathbook wash $x', 'bathbook wash `ls', 'bathbook wash "$HO'])
      expect(readBashLine(line, BREAKS)).toBeUndefined();
  });

  it.skipIf(lacking)('is read as bash reads it', () => {
    fc.assert(
      fc.property(
        fc.array(
          text.filter((one) => !one.includes('$')),
          { minLength: 1, maxLength: 4 },
        ),
        (values) => {
          const line = values.map((value) => `'${value.replaceAll("'", "'\\''")}'`).join(' ');
          expect(readBashLine(`${line} `, BREAKS)!.words).toEqual(wordsOfBash(line));
        },
      ),
      { numRuns: 60 },
    );
  });

  it.skipIf(lacking)(
    'gets every value in a form that bash takes for that value, whatever is typed of it',
    () => {
      fc.assert(
        fc.property(text, fc.constantFrom('', '"', "'"), (value, quote) => {
          const read = readBashLine(`bathbook x ${quote}`, BREAKS)!;
          const written = read.written(value);
          const isClosed = quote !== '' && written.endsWith(quote);
          expect(wordsOfBash(`${quote}${written}${isClosed ? '' : quote}`)).toEqual([value]);
        }),
        { numRuns: 150 },
      );
    },
  );

  it('gets the rest alone behind a sign at which bash begins anew', () => {
    expect(readBashLine('bathbook wash --in=di', BREAKS)!.written('--in=dirty')).toBe('dirty');
    expect(readBashLine('bathbook rotate --into a:b', BREAKS)!.written('a:bc d')).toBe('bc\\ d');
    expect(readBashLine('bathbook rotate --into a\\:b', BREAKS)!.written('a:bc')).toBe('a:bc');
  });
});
