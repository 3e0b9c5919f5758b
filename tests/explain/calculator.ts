/** A calculator that shares nothing with the program: mathjs, given a formula as it stands on screen. */
import { all, create } from 'mathjs';

// By itself it takes numbers that lie within 1e-12 for equal in min and max; a calculator does not.
const math = create(all!, { relTol: 1e-300, absTol: 0 });

/** What a formula comes to. */
export function calculated(formula: string, values: Record<string, number> = {}): number {
  const plain = formula.replaceAll('×', '*').replaceAll('−', '-');
  const scope = new Map(Object.entries(values).map(([name, value]) => [plainName(name), value]));
  const named = plain.replaceAll(/\p{L}[\p{L}\d_]*/gu, (word) => (word in values ? plainName(word) : word));
  const value: unknown = math.evaluate(named, scope);
  // A power of what is no number is a complex one that is none.
  return typeof value === 'number' ? value : Number.NaN;
}

/** mathjs knows some letters as units and constants. */
function plainName(name: string): string {
  return `v_${[...name].map((sign) => sign.codePointAt(0)!.toString(36)).join('_')}`;
}

/** A number as it is shown. */
export function shown(text: string): number {
  return Number(text.replace('−', '-'));
}

/** How far a number may lie from the one shown and still be rounded to it. */
export function halfOfLastDigit(text: string): number {
  const [, decimals = ''] = text.split('.');
  return 0.5 * 10 ** -decimals.length * (1 + 1e-9) + 1e-15;
}
