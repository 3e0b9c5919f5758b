/** What is typed after `stock received` and `stock counted`, read or refused. */
import type { Shop } from '../bath/shop.ts';
import { printable } from '../render/printable.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { readLiquid } from './liquid-words.ts';
import { round } from './values.ts';

/**
 * Solvent and amount in either order; of a count, nothing left as well.
 *
 * @throws Fault, usage, when one of them is missing or cannot be read
 */
export function amountOf(
  words: readonly string[],
  action: 'received' | 'counted',
  shop: Shop,
): { solvent: string; ml: number } {
  const none = action === 'counted' ? withoutNought(words) : undefined;
  const { solvent, ml, to, all } = readLiquid(none ?? words, shop);
  const amount = none ? 0 : ml;
  if (solvent !== undefined && amount !== undefined && !to && !all && !(none && ml !== undefined))
    return { solvent, ml: amount };
  const missing = solvent === undefined ? 'the solvent is missing' : 'the amount is missing';
  throw usage(
    `Cannot log what was ${action} of "${words.join(' ')}", ${to || all ? 'it takes an amount' : missing}`,
    `write it like: bathbook stock ${action} ${solvent ?? 'ipa99'} 10 L; solvents are ${[...shop.solvents.keys()].map(printable).join(', ')}`,
  );
}

const UNIT = /^(?:[mcd]?l|litres?|liters?|gal|gallons?|qt|quarts?|pt)$/i;

/** The words without an amount of nought and its unit; undefined where there is none. */
function withoutNought(words: readonly string[]): string[] | undefined {
  const single = words.flatMap((word) => word.split(/\s+/)).filter(Boolean);
  const place = single.findIndex((word) => /^(?:0+(?:[.,]0+)?\s*(?:[mcd]?l|gal)?|none|nothing)$/i.test(word));
  if (place === -1) return undefined;
  const unit = UNIT.test(single[place + 1] ?? '') ? 1 : 0;
  return single.filter((_, at) => at < place || at > place + unit);
}

/** `--price`: of the whole delivery, or a litre: 74, "74 CAD", 7.40/L. @throws Fault, usage */
export function priceOption(options: Options, ml: number): { price?: number } {
  const { price: text } = options;
  if (typeof text !== 'string') return {};
  const found =
    /^(?:\p{Sc}|[a-z]{3})?\s*(\d+(?:\.\d{1,4}|,\d{1,2})?)\s*(?:\p{Sc}|[a-z]{3})?\s*(\/\s*l(?:it(?:re|er))?)?$/iu.exec(
      text.trim(),
    );
  const value = found ? Number(found[1]!.replace(',', '.')) : Number.NaN;
  const price = round(found?.[2] ? (value * ml) / 1000 : value);
  if (price >= 0 && price <= 1_000_000) return { price };
  throw usage(
    `Cannot use --price "${text}"`,
    'give what the whole delivery cost, like --price 74, or a litre, like --price 7.40/L',
  );
}

/** Options of every entry, by their camel-case names. */
const OF_ENTRIES = ['at', 'by', 'note', 'dryRun'];

/**
 * Refuses options that have nothing to go with, those of every entry with them where nothing is logged.
 *
 * @param own - options that need one of the actions
 * @param needed - the actions that take them
 * @throws Fault, usage
 */
export function refuseOptions(
  options: Options,
  own: readonly string[],
  command: string,
  needed: readonly string[],
): void {
  const logs = command.includes(' ');
  const given = [...own, ...(logs ? [] : OF_ENTRIES)].find((name) => options[name] !== undefined);
  if (given === undefined) return;
  const flag = `--${given.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
  const asOf = given === 'at' ? '; to look at an earlier time, use --as-of' : '';
  throw usage(
    `Cannot use ${flag} with bathbook ${command}`,
    `it goes with ${needed.map((one) => `"${command.split(' ')[0]} ${one}"`).join(' or ')}${asOf}`,
  );
}
