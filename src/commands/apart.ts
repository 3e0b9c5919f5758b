/** Values that were typed in two words, as on paper, where a shell wants one: `--level 3.9 L`, `--at yesterday 17:30`. */
import type { OptionDefinition } from './definition.ts';

type Kind = 'amount' | 'duration' | 'temperature' | 'length' | 'moment';

/** What a value is, by the word that stands for it in the help; `--drained TIME` is a duration all the same. */
const KINDS: Record<string, Kind> = {
  AMOUNT: 'amount',
  HOURS: 'duration',
  TEMPERATURE: 'temperature',
  AREA: 'amount',
  LENGTH: 'length',
  DISTANCE: 'length',
  TIME: 'moment',
};
const DURATIONS = new Set(['--drained', '--open', '--minutes']);

const NUMBER = /^\d[\d.,]*$/;
const CLOCK = /^\d{1,2}:\d{2}(?::\d{2})?$|^\d{1,2}(?::\d{2})?[ap]m$/i;
const DAY =
  /^(?:today|yesterday|(?:sun|mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?)(?:day)?|\d{4}-\d{2}-\d{2})$/i;
const UNITS: Record<Exclude<Kind, 'moment'>, RegExp> = {
  amount:
    /^(?:[mcd]?l|gal|qt|pt|fl\.?oz|oz|cc|[mk]?g|lb|(?:[mcd]?m|in)[2²])$|^(?:(?:milli|centi|deci)?(?:lit(?:re|er)|gram)|kilo(?:gram)?|gallon|quart|pint|ounce|pound)s?$/i,
  duration: /^(?:s|sec|second|m|min|minute|h|hr|hour|d|day)s?$/i,
  temperature: /^°?[cfk]$|^(?:celsius|fahrenheit|kelvin)$/i,
  length: /^(?:[mc]?m|in|inch|inches)$/i,
};

/** Whether it is worth while to look closer: a number or a day after an option, and something that could belong to it. */
export function mayBeApart(args: readonly string[]): boolean {
  return args.some((arg, nth) => isPair(args[nth + 1], args[nth + 2]) && arg.startsWith('--'));
}

function isPair(first: string | undefined, second: string | undefined): boolean {
  if (first === undefined || second === undefined) return false;
  return NUMBER.test(first)
    ? /^°?[a-z]/i.test(second) || NUMBER.test(second)
    : CLOCK.test(second) && DAY.test(first);
}

/**
 * The words of a command, with such values in one. Nothing else is touched: a word is only taken that no load, bath or solvent
 * could be, unless it is named like a unit.
 */
export function joined(args: readonly string[], options: readonly OptionDefinition[]): string[] {
  const whole: string[] = [];
  for (let nth = 0; nth < args.length; nth += 1) {
    whole.push(args[nth]!);
    const list = listAfter(args, nth, options);
    if (list.length > 1) {
      whole.push(list.join(' '));
      nth += list.length;
      continue;
    }
    const [value, next] = [args[nth + 1], args[nth + 2]];
    if (!isPair(value, next) || !belongs(kindOf(args[nth]!, options), value!, next!)) continue;
    whole.push(`${value} ${next}`);
    nth += 2;
  }
  return whole;
}

/** The numbers after an option that takes several, `--minutes 5 5`, unless a word follows that the last could be a count of. */
function listAfter(args: readonly string[], nth: number, options: readonly OptionDefinition[]): string[] {
  if (!options.some(({ flags }) => flags === `${args[nth]} LIST`)) return [];
  const after = args.slice(nth + 1);
  const end = after.findIndex((word) => !NUMBER.test(word));
  return end < 0 || after[end]!.startsWith('-') ? after.slice(0, end < 0 ? undefined : end) : [];
}

function kindOf(option: string, options: readonly OptionDefinition[]): Kind | undefined {
  const flags = options.find((one) => one.flags.split(' ')[0] === option)?.flags;
  if (flags === undefined) return undefined;
  return DURATIONS.has(option) ? 'duration' : KINDS[flags.split(' ')[1] ?? ''];
}

function belongs(kind: Kind | undefined, value: string, next: string): boolean {
  if (kind === undefined) return false;
  if (kind === 'moment') return DAY.test(value) && CLOCK.test(next);
  return NUMBER.test(value) && UNITS[kind].test(next);
}
