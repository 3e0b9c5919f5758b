/** Where the cursor stands in a command line: what was given, and what would come next. */
import { STANDING } from '../render/help.ts';
import {
  COMMANDS,
  type CommandDefinition,
  GLOBAL_OPTIONS,
  type OptionDefinition,
  WRITE_OPTIONS,
} from './definition.ts';

export interface Course {
  command: CommandDefinition | undefined;
  /** The arguments of the command before the cursor. */
  args: string[];
  /** Options given so far, as `--name`. */
  given: Set<string>;
  /** The ledger that was named. */
  ledger: string | undefined;
  /** The option whose value stands at the cursor. */
  awaited: OptionDefinition | undefined;
  /** What is typed of the value before its own part: `--in=` or `dirty,`. */
  before: string;
  /** What is typed of the value itself. */
  typed: string;
  /** Options are over: `--` was typed. */
  isPlain: boolean;
}

/** Every option that a command takes. */
export function optionsOf(command: CommandDefinition | undefined): readonly OptionDefinition[] {
  return [
    ...(command?.options ?? []),
    ...(command?.writes ? WRITE_OPTIONS : []),
    ...GLOBAL_OPTIONS,
    ...STANDING,
  ];
}

/** `--into` of `--into CONTAINER`. */
export function nameOf({ flags }: OptionDefinition): string {
  return flags.split(' ')[0]!;
}

/**
 * Follows the words before the cursor.
 *
 * @param words - those after the program's name
 * @param typed - what is typed of the word at the cursor
 */
export function follow(words: readonly string[], typed: string): Course {
  const course: Course = {
    command: undefined,
    args: [],
    given: new Set(),
    ledger: undefined,
    awaited: undefined,
    before: '',
    typed,
    isPlain: false,
  };
  for (const word of words) step(course, word);
  if (course.awaited && takesMore(course.awaited) && typed.startsWith('-')) course.awaited = undefined;
  if (course.awaited === undefined && !course.isPlain) assigned(course);
  return course;
}

function step(course: Course, word: string): void {
  const { awaited } = course;
  if (awaited && !(takesMore(awaited) && word.startsWith('-'))) {
    if (nameOf(awaited) === '--ledger') course.ledger = word;
    if (!takesMore(awaited)) course.awaited = undefined;
    return;
  }
  course.awaited = undefined;
  if (word === '--' && !course.isPlain) course.isPlain = true;
  else if (word.startsWith('-') && word !== '-' && !course.isPlain) option(course, word);
  else if (course.command || (word === 'help' && course.args.length === 0)) course.args.push(word);
  else if (course.args.length > 0 || !COMMANDS.some(({ name }) => name === word)) course.args.push(word);
  else course.command = COMMANDS.find(({ name }) => name === word);
}

/** `--mesh FILE...`: all words up to the next option. */
function takesMore({ flags }: OptionDefinition): boolean {
  return flags.endsWith('...');
}

function option(course: Course, word: string): void {
  const [name, value] = apart(word);
  const found = optionsOf(course.command).find((one) => nameOf(one) === name);
  course.given.add(name);
  if (name === '--ledger' && value !== undefined) course.ledger = value;
  if (value === undefined && found?.flags.includes(' ')) course.awaited = found;
}

/** `--in=dir` at the cursor: the value of an option in the same word. */
function assigned(course: Course): void {
  const [name, value] = apart(course.typed);
  const found = optionsOf(course.command).find((one) => nameOf(one) === name);
  if (value === undefined || !found?.flags.includes(' ')) return;
  course.awaited = found;
  course.before = `${name}=`;
  course.typed = value;
}

function apart(word: string): [string, string | undefined] {
  const at = word.indexOf('=');
  return word.startsWith('--') && at > 0 ? [word.slice(0, at), word.slice(at + 1)] : [word, undefined];
}
