/** A number as people type it: decimal comma or point, thousands parted or not; what can be read in two ways is not guessed at. */

/** Read; or the two things it may mean; or undefined where it is no number. */
export type TypedNumber = number | { either: readonly [number, number] } | undefined;

/**
 * Reads `2.5`, `2,5`, `1 250`, `1'250`, `1,250.5`, `1.250,5`. A single comma before three digits may be either.
 *
 * Example: `2,5` is 2.5; `1,250` is 1.25 or 1250.
 */
export function typedNumber(text: string): TypedNumber {
  const plain = text.replaceAll(/[\u00a0\u2009\u202f]/g, ' ').replaceAll('’', "'");
  if (/^[+-]?(?:\d+\.?\d*|\.\d+)$/.test(plain)) return Number(plain);
  if (/^[+-]?[1-9]\d{0,2},\d{3}$/.test(plain))
    return { either: [Number(plain.replace(',', '.')), Number(plain.replace(',', ''))] };
  if (/^[+-]?\d*,\d+$/.test(plain)) return Number(plain.replace(',', '.'));
  const parted = /^([+-]?[1-9]\d{0,2})([ '])(\d{3}(?:\2\d{3})*)(?:[.,](\d+))?$/.exec(plain);
  const twoMarks = /^([+-]?[1-9]\d{0,2})([,.])(\d{3}(?:\2\d{3})*)(?!\2)[.,](\d+)$/.exec(plain);
  const many = /^([+-]?[1-9]\d{0,2})([,.])(\d{3}(?:\2\d{3})+)$/.exec(plain);
  const found = parted ?? twoMarks ?? many;
  if (!found) return undefined;
  const [, first, mark, rest, decimals = ''] = found;
  return Number(`${first}${rest!.replaceAll(mark!, '')}.${decimals}`);
}
