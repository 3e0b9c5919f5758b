/** Signs that a terminal obeys or that cannot be seen, by code point; a line break and a tab are among them. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Co}\p{Zl}\p{Zp}\\']/gu;

/**
 * A word as it can be typed in a shell: plain, or in quotes in which the shell finds nothing to do, so that a name chosen by others
 * does nothing when the line is pasted. One with signs that cannot be typed is written the way that bash, ksh and zsh read them.
 */
export function shellWord(word: string): string {
  if (/^[\w./:=,@%+-]+$/.test(word)) return word;
  if (/[\p{Cc}\p{Cf}\p{Co}\p{Zl}\p{Zp}]/u.test(word)) return `$'${word.replaceAll(UNSEEN, escaped)}'`;
  return /["$`\\!]/.test(word) ? `'${word.replaceAll("'", `'\\''`)}'` : `"${word}"`;
}

function escaped(sign: string): string {
  if (sign === '\\' || sign === "'") return `\\${sign}`;
  return `\\U${sign.codePointAt(0)!.toString(16).padStart(8, '0')}`;
}
