// Words that stand in a ledger without quotes.

/** Words that some YAML schema reads as something other than text, in small letters. */
const NOT_TEXT = new Set(['null', 'true', 'false', 'yes', 'no', 'on', 'off', 'y', 'n']);

/** True for a word the program writes without quotes: the scanner and every YAML schema read it as this text. */
export function isPlainWord(word: string): boolean {
  return /^[A-Za-z][A-Za-z0-9_./-]*$/.test(word) && !isTaken(word);
}

/** True for a key the program writes without quotes. */
export function isPlainKey(key: string): boolean {
  return /^[A-Za-z][A-Za-z0-9_-]*$/.test(key) && !isTaken(key);
}

/** Words met before. A ledger says the same few hundred words over and over; one copy of each is enough. */
const met = new Map<string, string>();
const MOST_MET = 500;

/** The word, or undefined when some YAML schema reads it as something other than text. */
export function familiar(word: string): string | undefined {
  const known = met.get(word);
  if (known !== undefined || isTaken(word)) {
    return known;
  }
  if (met.size < MOST_MET && word.length < 40) {
    met.set(word, word);
  }
  return word;
}

function isTaken(word: string): boolean {
  return word.length <= 5 && NOT_TEXT.has(word.toLowerCase());
}
