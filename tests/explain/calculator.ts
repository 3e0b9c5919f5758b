/** A calculator that shares nothing with the program: mathjs, given a formula as it stands on screen. */
import { all, create } from 'mathjs';

const math = create(all!);

/** What a formula comes to. */
export function calculated(formula: string, values: Record<string, number> = {}): number {
  const plain = formula.replaceAll('×', '*').replaceAll('−', '-');
  const scope = new Map(Object.entries(values).map(([name, value]) => [plainName(name), value]));
  const named = plain.replaceAll(/\p{L}[\p{L}\d_]*/gu, (word) => (word in values ? plainName(word) : word));
  return math.evaluate(named, scope) as number;
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
