/** Lists of quantities as they are typed: `5,5`, `5 min, 4 min`, `4.5 5`, `4,5; 5`. */

/** The pieces; or the two lists it may be. */
export type TypedList = string[] | { either: readonly [string, string] };

/**
 * Parts a list. A comma parts values; where semicolons part them, a comma is a decimal one. Where some values are parted by blanks, or
 * some commas stand before a blank and some do not, a comma may be either.
 *
 * Example: `4,5` is two values; `4,5; 5` is 4,5 and 5; `4,5 5` may be three values or two.
 */
export function typedList(text: string): TypedList {
  const typed = text.trim();
  if (typed.includes(';')) return pieces(typed, /;/);
  const all = pieces(typed, /,|\s+(?=[\d.+-])/);
  const isMixed = /\d,\d/.test(typed) && /\s[\d.+-]/.test(typed);
  if (!isMixed) return all;
  const decimal = pieces(typed.replaceAll(/(\d),(\d)/g, '$1.$2'), /,|\s+(?=[\d.+-])/);
  return { either: [decimal.join(', '), all.join(', ')] };
}

function pieces(text: string, mark: RegExp): string[] {
  return text
    .split(mark)
    .map((one) => one.trim())
    .filter(Boolean);
}
