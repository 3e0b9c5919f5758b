import type { Options } from './definition.ts';
import { usage } from './fault.ts';

interface Range {
  /** As typed, without its dashes: `per-day`. */
  flag: string;
  least: number;
  most: number;
  whole?: true;
  /** A share: may end in %. */
  percent?: true;
  /** What the help shows as a value. */
  example: string;
}

/** A comma before three digits may stand for thousands as well as for decimals. */
const AMBIGUOUS = /^[1-9]\d{0,2},\d{3}$/;

/**
 * The number that an option was given, in its range; a decimal comma will do where it cannot mean thousands.
 *
 * @returns undefined when the option was not given
 * @throws Fault, usage, when it is no number or outside its range
 */
export function numberIn(options: Options, range: Range): number | undefined {
  const { flag, least, most, whole, percent, example } = range;
  const text = options[flag.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase())];
  if (typeof text !== 'string') return undefined;
  const bare = text.trim().replace(percent ? /\s*%$/ : /$^/, '');
  if (AMBIGUOUS.test(bare)) {
    const [thousands, decimals] = [bare.replace(',', ''), bare.replace(',', '.')];
    throw usage(
      `Cannot tell what --${flag} "${text}" means: ${thousands} or ${decimals}`,
      `type --${flag} ${thousands} or --${flag} ${decimals}`,
    );
  }
  const number = /^\d*[.,]?\d+$/.test(bare) ? Number(bare.replace(',', '.')) : Number.NaN;
  if (number >= least && number <= most && !(whole && !Number.isInteger(number))) return number;
  throw usage(
    `Cannot use --${flag} "${text}"`,
    `give a ${whole ? 'whole ' : ''}number from ${least} to ${most}, like --${flag} ${example}`,
  );
}
