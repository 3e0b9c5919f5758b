/**
 * A load as it is typed after `wash`: counts and part names in either order.
 */
import { near } from '../ledger/near.ts';

export type LoadWords =
  | { parts: Record<string, number> }
  | { unknown: string; meant: string | undefined; corrected: string[] }
  | { wrongCount: string }
  | { partMissing: string };

interface Token {
  text: string;
  count?: number;
}

/**
 * Reads `6 model 2 mask`, `6x model`, `model 6 mask 2`, `model` (one of it), plurals and names typed in two words.
 *
 * @param words - the arguments
 * @param known - the parts of the shop
 * @returns the counts by part; or the first word that is no part, what was most likely meant, and the arguments with
 *   that put right; or a count that cannot be, or that no part follows
 */
export function readLoad(words: readonly string[], known: ReadonlyMap<string, unknown>): LoadWords {
  const single = words.flatMap((word) => apart(word, known));
  const tokens = countsFirst(joinNames(single.map(tokenOf), known));
  const parts: Record<string, number> = {};
  let pending: Token | undefined;
  for (const token of tokens) {
    if (token.count !== undefined) {
      if (pending || !isCount(token.count)) return { wrongCount: (pending ?? token).text };
      pending = token;
      continue;
    }
    const name = partName(token.text, known);
    if (name === undefined) return unknownPart(token.text, single, known);
    parts[name] = (parts[name] ?? 0) + (pending?.count ?? 1);
    pending = undefined;
  }
  return pending ? { partMissing: pending.text } : { parts };
}

function isCount(number: number): boolean {
  return Number.isInteger(number) && number >= 1 && number <= 1000;
}

/** `model 6 mask 2` read backwards is `2 mask 6 model`. */
function countsFirst(tokens: Token[]): Token[] {
  const nameFirst = tokens[0]?.count === undefined && tokens.at(-1)?.count !== undefined;
  return nameFirst ? tokens.reverse() : tokens;
}

/** `6model` and `model=6` as two words, unless the whole is a part. */
function apart(word: string, known: ReadonlyMap<string, unknown>): string[] {
  if (partName(word, known) !== undefined) return [word];
  const [, count, name] = /^(\d+)[x×]?([a-z][\w-]*)$/i.exec(word) ?? [];
  if (name && name.toLowerCase() !== 'x') return [count!, name];
  const [, key, value] = /^([a-z][\w-]*)[=:](\d+)$/i.exec(word) ?? [];
  return key ? [value!, key] : [word];
}

function tokenOf(word: string): Token {
  const found = /^(?:[x×]?(-?\d+(?:[.,]\d+)?)|(-?\d+(?:[.,]\d+)?)[x×])$/i.exec(word);
  if (!found) return { text: word };
  return { text: word, count: Number((found[1] ?? found[2])!.replace(',', '.')) };
}

/** Two words that together name a part ("hollow model") become one. */
function joinNames(tokens: Token[], known: ReadonlyMap<string, unknown>): Token[] {
  const joined: Token[] = [];
  for (let i = 0; i < tokens.length; i += 1) {
    const here = tokens[i]!;
    const next = tokens[i + 1];
    const both = next && here.count === undefined && next.count === undefined && `${here.text}-${next.text}`;
    if (both && partName(here.text, known) === undefined && partName(both, known) !== undefined) {
      joined.push({ text: both });
      i += 1;
    } else joined.push(here);
  }
  return joined;
}

/** The part that a word names: as it stands, in lower case, or in the singular. */
function partName(word: string, known: ReadonlyMap<string, unknown>): string | undefined {
  const lower = word.toLowerCase();
  const forms = [word, lower, lower.replace(/s$/, ''), lower.replace(/es$/, ''), lower.replace(/ies$/, 'y')];
  return forms.find((form) => known.has(form));
}

function unknownPart(word: string, words: readonly string[], known: ReadonlyMap<string, unknown>): LoadWords {
  const meant = near(word, known.keys());
  const corrected = meant === undefined ? [...words] : words.map((one) => (one === word ? meant : one));
  return { unknown: word, meant, corrected };
}
