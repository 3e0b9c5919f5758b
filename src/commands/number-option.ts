import type { Options } from './definition.ts';
import { usage } from './fault.ts';

interface Range {
  /** As typed, without its dashes: `per-day`. */
  flag: string;
  least: number;
  most: number;
  whole?: true;
  /** What the help shows as a value. */
  example: string;
}

/**
 * The number that an option was given, in its range; a decimal comma will do, and so will a % at the end.
 *
 * @returns undefined when the option was not given
 * @throws Fault, usage, when it is no number or outside its range
 */
export function numberIn(options: Options, range: Range): number | undefined {
  const { flag, least, most, whole, example } = range;
  const text = options[flag.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase())];
  if (typeof text !== 'string') return undefined;
  const number = /^\s*\d*[.,]?\d+\s*%?\s*$/.test(text)
    ? Number.parseFloat(text.trim().replace(',', '.'))
    : Number.NaN;
  if (number >= least && number <= most && !(whole && !Number.isInteger(number))) return number;
  throw usage(
    `Cannot use --${flag} "${text}"`,
    `give a ${whole ? 'whole ' : ''}number from ${least} to ${most}, like --${flag} ${example}`,
  );
}
