/** From arguments to a command and its exit code; where every fault ends as one clear message. */
import { Command, CommanderError, Option } from 'commander';
import { near } from '../ledger/near.ts';
import { joined, mayBeApart } from './apart.ts';
import { Context } from './context.ts';
import {
  COMMANDS,
  type CommandDefinition,
  GLOBAL_OPTIONS,
  type OptionDefinition,
  type Options,
  WRITE_OPTIONS,
} from './definition.ts';
import { ended } from './ended.ts';
import { EXIT, usage } from './fault.ts';
import { helpText } from './help.ts';
import { say } from './streams.ts';
import { VERSION } from './version.ts';

/** What is known when a command ends, one way or another. */
interface Course {
  called: CommandDefinition | undefined;
  exit: number;
}

/** Runs the command that the arguments name, and never throws. */
export async function runProgram(typed: readonly string[]): Promise<number> {
  const args = typed[0] === 'help' ? [...typed.slice(1), '--help'] : whole(typed);
  const course: Course = { called: undefined, exit: EXIT.done };
  const named = new Set(args);
  const program = shape(new Command('bathbook'), undefined, course);
  for (const option of GLOBAL_OPTIONS) program.addOption(optionOf(option));
  program.version(`bathbook ${VERSION}`, '-V, --version').helpCommand(false);
  for (const definition of COMMANDS) {
    const command = shape(program.command(definition.name), definition, course);
    if (named.has(definition.name)) define(command, definition, course);
  }
  try {
    await program.parseAsync([...args], { from: 'user' });
    return course.exit;
  } catch (error) {
    const isAnswer = error instanceof CommanderError && error.exitCode === 0;
    const first = args.find((arg) => COMMANDS.some(({ name }) => name === arg));
    const meant = error instanceof CommanderError ? undefined : COMMANDS.find(({ name }) => name === first);
    return isAnswer ? EXIT.done : ended(error, typed, course.called ?? meant);
  }
}

/** With values that were typed in two words made one. */
function whole(typed: readonly string[]): readonly string[] {
  if (!mayBeApart(typed)) return typed;
  const called = COMMANDS.find(({ name }) => typed.includes(name));
  return joined(typed, [...(called?.options ?? []), ...WRITE_OPTIONS, ...GLOBAL_OPTIONS]);
}

/** What all commands share: our help, errors as values. */
function shape(command: Command, definition: CommandDefinition | undefined, course: Course): Command {
  command.exitOverride((error) => {
    course.called = definition;
    throw error;
  });
  command.helpOption('-h, --help').helpInformation = () => helpText(definition);
  command.configureOutput({ writeOut: say, outputError: () => {} });
  return command.allowExcessArguments(false);
}

function define(command: Command, definition: CommandDefinition, course: Course): void {
  if (definition.args) command.arguments(definition.args);
  const options = definition.writes ? [...definition.options, ...WRITE_OPTIONS] : definition.options;
  for (const option of options) command.addOption(optionOf(option));
  command.action(async () => {
    course.called = definition;
    const options: Options = command.optsWithGlobals();
    const { run } = await definition.load();
    course.exit = await run([...command.args], options, new Context(options));
  });
}

export function optionOf({ flags, about, repeat, once, choices }: OptionDefinition): Option {
  const option = new Option(flags.replace(/ (.+)$/, ' <$1>'), about);
  if (choices) option.argParser((value: string) => choose(value, choices, flags));
  if (once) option.argParser((value: string, before?: string) => onlyOne(value, before, flags, once));
  if (repeat) option.argParser((value: string, before: string[] = []) => [...before, value]);
  return option;
}

/** Of two ledgers the first would be left unwritten without a word. */
function onlyOne(value: string, before: string | undefined, flags: string, instead: string): string {
  if (before === undefined) return value;
  throw usage(`Cannot use ${flags.split(' ')[0]} twice, for "${before}" and "${value}"`, instead);
}

function choose(value: string, choices: readonly string[], flags: string): string {
  if (choices.includes(value)) return value;
  const meant = near(value, choices);
  throw usage(
    `Cannot use "${value}" for ${flags}`,
    `${meant ? `did you mean "${meant}"? ` : ''}it takes ${choices.join(', ')}`,
  );
}
