/**
 * The words of a line, parted by blanks; quotes keep blanks together, and what follows a `#` is a remark.
 *
 * Example: `17:30 6 model --note "two trays" # late` is six words.
 *
 * @returns undefined where a quote is not closed
 */
export function lineWords(text: string): string[] | undefined {
  const words: string[] = [];
  let word: string | undefined;
  let quote = '';
  for (const sign of text) {
    if (quote) {
      if (sign === quote) quote = '';
      else word += sign;
    } else if (sign === '"' || sign === "'") {
      quote = sign;
      word ??= '';
    } else if (/\s/.test(sign)) {
      if (word !== undefined) words.push(word);
      word = undefined;
    } else if (sign === '#' && word === undefined) break;
    else word = (word ?? '') + sign;
  }
  if (quote) return undefined;
  return word === undefined ? words : [...words, word];
}
