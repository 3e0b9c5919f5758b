/** A line of bash up to the cursor: its words as bash takes them, and how a value must be written to stand where the last one does. */

export interface BashLine {
  /** The words before the one at the cursor, without their quotes; the first is the program. */
  words: string[];
  /** What is typed of the one at the cursor, without quotes. */
  typed: string;
  /** The word at the cursor names a file after `<` or `>`. */
  redirects: boolean;
  /** The value as the text that bash puts in the place of what it takes for the word at the cursor. */
  written(value: string): string;
}

type Quote = '' | '"' | "'";

/** Signs that end a command, or begin one. */
const BETWEEN_COMMANDS = /[|;&()\n]/;
/** Signs that need no backslash outside quotes. */
const PLAIN = /[\w./,+@%:=-]|[^\0-\x7f]/;

/**
 * Reads it.
 *
 * @param breaks - the signs at which bash begins a word of its own, from COMP_WORDBREAKS
 * @returns undefined where the word at the cursor is not known before it is run, as with `$(…)`
 */
export function readBashLine(line: string, breaks: string): BashLine | undefined {
  let words: string[] = [];
  let word: string | undefined;
  let quote: Quote = '';
  let redirects = false;
  /** What is typed since the place that bash would replace from. */
  let ofBash = '';
  let isRun = false;
  const begin = (): void => {
    word = undefined;
    ofBash = '';
    isRun = false;
  };
  const add = (sign: string): void => {
    word = (word ?? '') + sign;
    ofBash += sign;
  };
  for (let at = 0; at < line.length; at += 1) {
    const sign = line[at]!;
    if (sign === '\\' && quote !== "'" && (quote === '' || /["$`\\]/.test(line[at + 1] ?? ''))) {
      at += 1;
      if (at < line.length) add(line[at]!);
      else word ??= '';
    } else if (quote !== '') {
      if (sign === quote) {
        quote = '';
        ofBash = '';
      } else {
        if (quote === '"' && /[$`]/.test(sign)) isRun = true;
        add(sign);
      }
    } else if (sign === '"' || sign === "'") {
      quote = sign;
      word ??= '';
      ofBash = '';
    } else if (sign === ' ' || sign === '\t') {
      if (word !== undefined) {
        if (!redirects) words.push(word);
        redirects = false;
      }
      begin();
    } else if (BETWEEN_COMMANDS.test(sign)) {
      words = [];
      redirects = false;
      begin();
    } else if (sign === '<' || sign === '>') {
      begin();
      redirects = true;
    } else {
      if (/[$`]/.test(sign)) isRun = true;
      add(sign);
      if (breaks.includes(sign)) ofBash = '';
    }
  }
  if (isRun) return undefined;
  const typed = word ?? '';
  const kept = typed.length - ofBash.length;
  return { words, typed, redirects, written: (value) => quoted(value.slice(kept), quote) };
}

/** Text that bash reads as the value, within a quote that is open or outside any; nothing in it is run. */
function quoted(text: string, quote: Quote): string {
  const written =
    quote === "'"
      ? text.replaceAll("'", "'\\''")
      : quote === '"'
        ? text.replaceAll(/["$`\\]/g, '\\$&').replaceAll('!', `"'!'"`)
        : [...text].map((sign) => (PLAIN.test(sign) ? sign : `\\${sign}`)).join('');
  // Bash closes the quote, unless the last sign looks as if it did.
  return quote !== '' && written.endsWith(quote) ? written + quote : written;
}
