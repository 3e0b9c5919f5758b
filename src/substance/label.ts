/** What a bottle says, against what is in it. */
import { fractionFromVolume, LOWEST_VOL_PCT } from './mixture.ts';

export interface Label {
  wtPct: number;
  /** As it was given, with its unit. */
  words: string;
  /** No unit was given, so that wt% was taken. */
  bare: boolean;
}

/**
 * Reads `99`, `99 wt%`, `91 vol%`, `91 % v/v`; a bare number is wt%. A mere `%` below 98.5 is vol%, as bottles of 70 and 91 %
 * mean it (common practice, no source).
 */
export function readLabel(text: string): Label | { message: string; help: string } {
  const found = /^(\d+(?:[.,]\d+)?)\s*(.*)$/.exec(text.trim());
  const value = Number(found?.[1]?.replace(',', '.'));
  const given = found?.[2] ?? '?';
  const unit = given === '%' && value < 98.5 ? 'vol' : unitOf(given);
  if (unit === null) {
    return {
      message: `Cannot read "${text}" as a strength`,
      help: 'write it like 99, "99 wt%" or "91 vol%"; a bare number is wt%',
    };
  }
  const low = unit === 'vol' ? LOWEST_VOL_PCT : 40;
  if (!(value >= low && value <= 100)) {
    return {
      message: `Cannot use a label of ${value} ${unit}%, it is outside ${low.toFixed(1)}–100 ${unit}%`,
      help: 'give the strength of the label, 40 wt% (47.4 vol%) or more',
    };
  }
  const wtPct = unit === 'vol' ? fractionFromVolume(value / 100, 20) * 100 : value;
  return { wtPct, words: `${value} ${unit}%`, bare: unit === 'wt' && /^%?$/.test(given) };
}

function unitOf(text: string): 'wt' | 'vol' | null {
  const plain = text.toLowerCase().replaceAll(/[\s%/.]/g, '');
  if (['', 'wt', 'ww', 'mass', 'bymass', 'byweight'].includes(plain)) return 'wt';
  return ['vol', 'vv', 'byvolume', 'abv'].includes(plain) ? 'vol' : null;
}

export type Agreement = 'agrees' | 'doubtful' | 'weaker' | 'stronger';

/**
 * Whether a reading is what the label says: agrees within its deviation, doubtful within twice that. A 99 % label is a
 * lower limit, so that a stronger liquid agrees with it.
 *
 * @param wtPct what was read
 * @param giveOrTake its standard deviation in wt%
 */
export function againstLabel(label: Label, wtPct: number, giveOrTake: number): Agreement {
  const difference = wtPct - label.wtPct;
  if (Math.abs(difference) <= giveOrTake || (difference > 0 && label.wtPct >= 98.5)) return 'agrees';
  if (Math.abs(difference) <= 2 * giveOrTake) return 'doubtful';
  return difference < 0 ? 'weaker' : 'stronger';
}
