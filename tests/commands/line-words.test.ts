import { describe, expect, it } from 'vitest';
import { lineWords } from '../../src/commands/line-words.ts';

describe('the words of a line', () => {
  it.each([
    ['17:30 6 model', ['17:30', '6', 'model']],
    ['  a\t b ', ['a', 'b']],
    ['"yesterday 17:30" 6 model', ['yesterday 17:30', '6', 'model']],
    ["--note 'two trays' x", ['--note', 'two trays', 'x']],
    ['--note="two trays"', ['--note=two trays']],
    ['a # b', ['a']],
    ['a#b "# c"', ['a#b', '# c']],
    ['# all', []],
    ['', []],
    ['"" a', ['', 'a']],
  ])('%s', (text, words) => {
    expect(lineWords(text)).toEqual(words);
  });

  it.each(['"open', "a 'b", 'a "b\' c'])('a quote that is not closed: %s', (text) => {
    expect(lineWords(text)).toBeUndefined();
  });
});
