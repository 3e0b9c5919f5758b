/** Amount and solvent as they are typed after a bath: `4 L ipa99`, `to mark`, `250 mL`, `all`. */
import type { Shop } from '../bath/shop.ts';
import { near } from '../ledger/near.ts';
import { usage } from './fault.ts';
import { known, named, quantity, round } from './values.ts';

export interface LiquidWords {
  ml?: number;
  to?: 'mark';
  all?: true;
  solvent?: string;
}

/**
 * Reads the words after the bath's name.
 *
 * @throws Fault, usage, when a word is left over or an amount cannot be read
 */
export function readLiquid(words: readonly string[], shop: Shop): LiquidWords {
  const left = words.flatMap((word) => word.split(/\s+/)).filter((word) => !/^(?:of|with|the)$/i.test(word));
  const read: LiquidWords = {};
  while (left.length > 0) {
    const word = left.shift()!;
    if (/^to$/i.test(word)) {
      if (!/^mark$/i.test(left[0] ?? '')) throw usage(`Cannot read "to ${left[0] ?? ''}"`, 'write "to mark"');
      left.shift();
      read.to = 'mark';
    } else if (/^all$/i.test(word)) read.all = true;
    else if (/^[\d.,+-]/.test(word)) read.ml = once(read.ml, amount(word, left), words);
    else read.solvent = once(read.solvent, solventOf(word, shop), words);
  }
  return read;
}

/** One amount, one solvent: `1 500 mL` and `1 L 500 mL` could mean two things. */
function once<T>(before: T | undefined, now: T, words: readonly string[]): T {
  if (before === undefined) return now;
  throw usage(
    `Cannot take "${words.join(' ')}", it names two of one thing`,
    'write one amount and one solvent, like 1500 mL ipa99',
  );
}

function solventOf(word: string, shop: Shop): string {
  if (named(word, shop.solvents) === undefined && near(word, shop.solvents.keys()) === undefined) {
    const solvents = [...shop.solvents.keys()].join(', ');
    throw usage(
      `Cannot read "${word}" as an amount or a solvent`,
      `amounts are like 4 L, 250 mL or 1 gal, solvents are ${solvents}`,
    );
  }
  return known(word, 'solvent', shop.solvents);
}

/** A number with its unit, in one word or two: `250mL`, `4 L`, `8 fl oz`. */
function amount(word: string, left: string[]): number {
  const ounces = /^fl$/i.test(left[0] ?? '') && /^oz$/i.test(left[1] ?? '');
  const unit = /[a-z]$/i.test(word)
    ? ''
    : ounces
      ? left.splice(0, 2).join('')
      : isUnit(left[0])
        ? left.shift()!
        : '';
  const ml = round(quantity(`${word} ${unit}`.trim(), 'volume', 'amount'));
  if (ml > 0) return ml;
  throw usage(`Cannot take an amount of ${word}${unit ? ` ${unit}` : ''}`, 'give more than 0, up to 1000 L');
}

function isUnit(word: string | undefined): boolean {
  return (
    word !== undefined &&
    /^(?:m|c|d)?l(?:it(?:re|er)s?)?$|^cm3$|^cc$|^gal(?:lons?)?$|^q(?:uar)?ts?$|^pt$|^floz$/i.test(word)
  );
}
