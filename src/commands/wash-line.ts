/** One line of `wash --lines`: a time, the load, options. */
import { Command } from 'commander';
import { joined } from './apart.ts';
import { COMMANDS, type Options, WRITE_OPTIONS } from './definition.ts';
import { usage } from './fault.ts';
import { lineWords } from './line-words.ts';
import { optionOf } from './program.ts';

export type ReadLine =
  | { kind: 'nothing' }
  /** A day by itself, for the times below it. */
  | { kind: 'day'; day: string }
  | { kind: 'wash'; time: string | undefined; args: string[]; options: Options };

const DAY = /^(?:\d{4}-\d{2}-\d{2}|today|yesterday|(?:last )?(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*)$/i;
const CLOCK = /^\d{1,2}:\d{2}(?::\d{2})?(?:Z|[+-]\d{2}:\d{2})?$/;
const DAY_AND_CLOCK = /^\d{4}-\d{2}-\d{2}[T ]\d{1,2}:\d{2}\S*$/;
/** "yesterday 17:30" in quotes; nothing else in a load has a colon and blanks. */
const QUOTED = /^\S.* \d{1,2}:\d{2}$/;

/** What a line cannot do; the rest of the command's options it can. */
const NOT_IN_A_LINE = [
  'mesh',
  'mesh-unit',
  'as-part',
  'timed',
  'line-mode',
  'again',
  'lines',
  'about',
  'since',
  'until',
  'dry-run',
];

/** @throws Fault or CommanderError for what cannot be read */
export function readLine(text: string): ReadLine {
  const words = lineWords(text);
  if (!words) throw usage('Cannot read the line, a quote is not closed', 'close it, or leave it out');
  if (words.length === 0) return { kind: 'nothing' };
  const day = words.join(' ').replace(/:$/, '');
  if (DAY.test(day)) return { kind: 'day', day };
  const { time, rest } = timeFirst(words);
  const { args, options } = parsed(rest);
  return { kind: 'wash', time: time ?? (options.at as string | undefined), args, options };
}

function timeFirst(words: readonly string[]): { time?: string; rest: string[] } {
  const [first = '', second = '', third = ''] = words;
  if (CLOCK.test(first) || DAY_AND_CLOCK.test(first) || QUOTED.test(first))
    return { time: first, rest: words.slice(1) };
  if (DAY.test(first) && CLOCK.test(second)) return { time: `${first} ${second}`, rest: words.slice(2) };
  if (DAY.test(`${first} ${second}`) && CLOCK.test(third))
    return { time: `${first} ${second} ${third}`, rest: words.slice(3) };
  return { rest: [...words] };
}

function parsed(words: readonly string[]): { args: string[]; options: Options } {
  const odd = NOT_IN_A_LINE.find((name) =>
    words.some((word) => word === `--${name}` || word.startsWith(`--${name}=`)),
  );
  if (odd) throw usage(`Cannot use --${odd} in a line`, 'give it to the command, or log that wash by itself');
  const wash = COMMANDS.find(({ name }) => name === 'wash')!;
  const command = new Command('wash').exitOverride().helpOption(false).arguments('[load...]');
  command.configureOutput({ outputError: () => {} });
  const options = [...wash.options, ...WRITE_OPTIONS];
  for (const option of options) command.addOption(optionOf(option));
  command.parse(joined(words, options), { from: 'user' });
  return { args: [...command.args], options: command.opts() };
}
