/** Numbers as spreadsheets write them: decimal commas or points, thousands parted, a unit behind. */
import { type Kind, parseQuantity } from '../substance/units.ts';

export type DecimalMark = 'point' | 'comma';

export type ReadNumber =
  | { value: number }
  /** `inTwoWays`: it could be read, were it only known which sign is the decimal one. */
  | { message: string; help: string; inTwoWays?: true };

interface NumberStyle {
  /** Undefined where nobody said: then a number that can be read in two ways is refused. */
  mark: DecimalMark | undefined;
  quantity?: Kind | undefined;
  /** The unit of a bare number, where it is not the base unit. */
  unit?: string | undefined;
}

const SIGN = { point: '.', comma: ',' } as const;
/** Read in one way whatever the decimal sign; so are nearly all. */
const PLAIN = /^\d+$|^(?:0|\d{4,})\.\d+$|^\d+\.(?:\d{1,2}|\d{4,})$/;
const BLANKS = /[\s\u00a0\u202f'’]/;

/** Reads one number, in the base unit of its quantity. */
export function readNumber(text: string, { mark, quantity, unit = '' }: NumberStyle): ReadNumber {
  if (unit === '' && mark !== 'comma' && PLAIN.test(text)) return { value: Number(text) };
  const typed = text.trim();
  const [, digits = '', behind = ''] = /^([+-]?[\d.,\s\u00a0\u202f'’]*\d[.,]?)(.*)$/s.exec(typed) ?? [];
  if (quantity === 'duration' && /^(?:overnight|\d+\s*h\s*\d{1,2}\s*(?:m|min)?)$/i.test(typed))
    return parseQuantity(typed, quantity);
  const number = digits === '' ? undefined : plainOf(digits, mark);
  if (number === undefined) return notANumber(text);
  if (typeof number !== 'string') return number;
  const named = behind.trim();
  if (quantity) return parseQuantity(`${number} ${named || unit}`.trim(), quantity);
  return named === '' || named === '%' ? { value: Number(number) } : notANumber(text);
}

/** With a point and nothing else; undefined when it is no number. */
function plainOf(text: string, mark: DecimalMark | undefined): string | ReadNumber | undefined {
  const sign = /^[+-]/.exec(text)?.[0] ?? '';
  const bare = unblanked(text.slice(sign.length).trim());
  if (bare === undefined) return undefined;
  const plain = marked(bare, mark);
  return typeof plain === 'string' ? (sign === '-' ? `-${plain}` : plain) : plain;
}

/** Without blanks that part thousands. */
function unblanked(text: string): string | undefined {
  if (!BLANKS.test(text)) return text;
  return /^\d{1,3}(?:[\s\u00a0\u202f'’]\d{3})+(?:[.,]\d*)?$/.test(text)
    ? text.replaceAll(new RegExp(BLANKS, 'g'), '')
    : undefined;
}

function marked(text: string, mark: DecimalMark | undefined): string | ReadNumber | undefined {
  if (/^\d+$/.test(text)) return text;
  const parted = /^\d{1,3}(?:([.,])\d{3})(?:\1\d{3})*(?:([.,])\d*)?$/.exec(text);
  const [, thousands, decimal] = parted ?? [];
  if (decimal !== undefined && decimal !== thousands) return withPoint(text, decimal);
  if (/^\d*[.,]\d*$/.test(text)) {
    const sign = text.includes(',') ? ',' : '.';
    const twofold = parted !== null && !text.startsWith('0');
    if (!twofold || (mark && SIGN[mark] === sign)) return withPoint(text, sign);
    return mark ? text.replace(sign, '') : inTwoWays(text, sign);
  }
  return parted && decimal === undefined ? text.replaceAll(/[.,]/g, '') : undefined;
}

function withPoint(text: string, decimal: string): string {
  const other = decimal === ',' ? '.' : ',';
  return text.replaceAll(other, '').replace(decimal, '.').replace(/\.$/, '').replace(/^\./, '0.');
}

function inTwoWays(text: string, sign: string): ReadNumber {
  return {
    message: `Cannot tell what "${text}" means, ${text.replace(',', '.')} or ${text.replace(sign, '')}`,
    help: 'say which sign is the decimal: --decimal comma or --decimal point',
    inTwoWays: true,
  };
}

function notANumber(text: string): ReadNumber {
  const short = text.length > 40 ? `${text.slice(0, 39)}…` : text;
  return { message: `Cannot read "${short}" as a number`, help: 'write digits, like 12.5' };
}
