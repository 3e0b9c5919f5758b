/** One number, the formula it comes from, and what was put in. */
import type { Quantity } from '../outlook/quantity.ts';
import { namesIn, withNumbers, worthOf } from './formula.ts';

/**
 * Where a number that is put in comes from: worked out above; the program's own default; the catalogue; the head of the ledger;
 * typed with the entry; drawn from readings; measured at the bench.
 */
export type Basis = 'worked out' | 'default' | 'catalogue' | 'ledger' | 'logged' | 'readings' | 'measured';

export interface Term {
  symbol: string;
  value: number;
  unit: string;
  about: string;
  basis: Basis;
}

export interface Equation {
  about: string;
  symbol: string;
  /** With names. */
  formula: string;
  /** With numbers, to as many digits as {@link result} needs. */
  numbers: string;
  /** What the program works with. */
  value: number;
  /** As shown. */
  result: string;
  unit: string;
  terms: Term[];
  /** Ids of data/SOURCES.md, or what else it rests on. */
  sources: string[];
}

/** An estimate with its band, and where readings have moved it. */
export interface Known {
  about: string;
  now: Quantity;
  unit: string;
  /** Of a factor: before any reading, and how many moved it. */
  atFirst?: Quantity;
  readings?: number;
}

/** Everything there is to say of one number. */
export interface Explanation {
  topic: string;
  /** The bath, the id of the wash, or a factor; null for what is of the shop. */
  of: string | null;
  title: string;
  equations: Equation[];
  known: Known[];
  /** Sentences: what was measured, how the number is used. */
  remarks: string[];
}

/**
 * An equation with its numbers put in.
 *
 * @param given.value - as the program's own functions have it; the formula only chooses the digits
 * @param given.digits - significant figures of the result; three where nothing is said
 */
export function equation(given: Omit<Equation, 'numbers' | 'result'> & { digits?: number }): Equation {
  const { digits = 3, ...rest } = given;
  const result = figures(given.value, digits);
  return { ...rest, result, numbers: numbersFor(given, result, digits) };
}

/** As many as a double has: two numbers that hardly differ need nearly all of them for three of their difference. */
const MOST_DIGITS = 17;

function numbersFor(
  { formula, terms }: Pick<Equation, 'formula' | 'terms'>,
  result: string,
  digits: number,
): string {
  const used = namesIn(formula).map((name) => terms.find(({ symbol }) => symbol === name)!);
  let numbers = '';
  for (let most = 3; most <= MOST_DIGITS; most += 1) {
    const texts = Object.fromEntries(used.map(({ symbol, value }) => [symbol, plain(value, most)]));
    numbers = withNumbers(formula, texts);
    if (figures(worthOf(numbers, {}), digits) === result) break;
  }
  return numbers;
}

/** So many significant figures, whole numbers in full; never with an exponent. */
export function figures(value: number, digits: number): string {
  if (value === 0) return '0';
  const decimals = digits - 1 - Math.floor(Math.log10(Math.abs(value)));
  const text = value.toFixed(Math.min(100, Math.max(0, decimals)));
  return text.replace('-', '−');
}

/** The same without trailing noughts; what is whole stays exact, what is negative in brackets. */
function plain(value: number, most: number): string {
  if (Number.isInteger(value)) return value < 0 ? `(−${-value})` : String(value);
  const text = figures(Math.abs(value), most)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '');
  return value < 0 ? `(−${text})` : text;
}
