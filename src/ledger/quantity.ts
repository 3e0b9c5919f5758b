import * as z from 'zod/mini';
import { type Range, rangeText } from './range.ts';

// The bundle may run where code cannot be made from strings, and the ledger's objects are small.
z.config({ jitless: true });

/** A number within a range. The range in words travels as the message of each issue; `explain.ts` reads it there. */
export function quantity(range: Range): z.ZodMiniNumber<number> {
  const words = rangeText(range);
  const low = range.above === undefined ? z.gte(range.min ?? 0, words) : z.gt(range.above, words);
  return z.number(words).check(low, z.lte(range.max, words));
}

/** A whole number of things, at least one. */
export function count(max: number): z.ZodMiniNumber<number> {
  const words = `whole numbers, 1 to ${max}`;
  return z.number(words).check(z.gte(1, words), z.lte(max, words), z.multipleOf(1, words));
}

/** Free text of one line, 1 to `max` characters. */
export function text(max: number): z.ZodMiniString<string> {
  const words = `text of 1 to ${max} characters`;
  return z.string(words).check(z.minLength(1, words), z.maxLength(max, words), z.regex(/\S/, words));
}

/** An event id: no blanks, so that it can be typed on a command line. */
export function idText(): z.ZodMiniString<string> {
  const words = 'text of 1 to 64 characters without blanks';
  return z.string(words).check(z.regex(/^[^\s]{1,64}$/, words));
}

/** Words that JavaScript objects already carry; as names they would be mistaken for catalogue entries. */
const NAME =
  /^(?!(?:constructor|valueOf|toString|toLocaleString|hasOwnProperty|isPrototypeOf|propertyIsEnumerable)$)[\p{L}\p{N}][\p{L}\p{N}._-]{0,39}$/u;

/** The name of a bath, solvent, resin or part. */
export function nameText(): z.ZodMiniString<string> {
  const words = 'a name of 1 to 40 letters, digits, "-", "_" or ".", first a letter or digit';
  return z.string(words).check(z.regex(NAME, words));
}
