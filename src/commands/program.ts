/** From arguments to a command and its exit code; where every fault ends as one clear message. */
import { Command, CommanderError, Option } from 'commander';
import { Context, VERSION } from './context.ts';
import {
  COMMANDS,
  type CommandDefinition,
  GLOBAL_OPTIONS,
  type OptionDefinition,
  type Options,
  WRITE_OPTIONS,
} from './definition.ts';
import { EXIT, Fault } from './fault.ts';

/** Runs the command that the arguments name, and never throws. */
export async function runProgram(args: readonly string[]): Promise<number> {
  let exit: number = EXIT.done;
  const named = new Set(args);
  const program = frame();
  for (const definition of COMMANDS) {
    const command = program.command(definition.name).summary(definition.summary);
    shape(command);
    if (!named.has(definition.name)) continue;
    define(command, definition);
    command.action(async () => {
      exit = await run(definition, command.args, command.optsWithGlobals());
    });
  }
  try {
    await program.parseAsync([...args], { from: 'user' });
    return exit;
  } catch (error) {
    return ended(error, args);
  }
}

function frame(): Command {
  const program = new Command('bathbook').usage('[options] COMMAND');
  for (const option of GLOBAL_OPTIONS) program.addOption(optionOf(option));
  program.version(`bathbook ${VERSION}`, '-V, --version', 'print the version');
  program.helpCommand('help [command]', 'help on a command');
  shape(program);
  program.action(() => program.help());
  return program;
}

/** What all commands share: our help, our exit codes. */
function shape(command: Command): void {
  command.exitOverride();
  command.helpOption('-h, --help', 'this help');
  command.showSuggestionAfterError(true);
  command.configureOutput({ outputError: (text, write) => write(asError(text, command)) });
  command.allowExcessArguments(false);
}

function define(command: Command, definition: CommandDefinition): void {
  if (definition.args) command.arguments(definition.args);
  const options = definition.writes ? [...definition.options, ...WRITE_OPTIONS] : definition.options;
  for (const option of options) command.addOption(optionOf(option));
}

function optionOf({ flags, about, repeat, choices }: OptionDefinition): Option {
  const option = new Option(flags.replace(/ (.+)$/, ' <$1>'), about);
  if (choices) option.choices(choices);
  if (repeat) option.argParser((value: string, before: string[] = []) => [...before, value]);
  return option;
}

async function run(
  definition: CommandDefinition,
  args: readonly string[],
  options: Options,
): Promise<number> {
  const command = await definition.load();
  return command.run([...args], options, new Context(options));
}

/** Commander's sentences in our form, with the way to the help. */
function asError(text: string, command: Command): string {
  const [first = '', ...more] = text
    .replace(/^error: /, '')
    .trim()
    .split('\n');
  const sentence = first.charAt(0).toUpperCase() + first.slice(1).replaceAll("'", '"').replace(/\.$/, '');
  const path = command.parent ? `bathbook ${command.name()}` : 'bathbook';
  const hints = more.map((line) => line.replace(/^\(|\)$/g, '')).filter(Boolean);
  return `error: ${sentence}\n${[...hints, `${path} --help`].map((hint) => `help: ${hint}`).join('\n')}\n`;
}

async function ended(error: unknown, args: readonly string[]): Promise<number> {
  if (error instanceof CommanderError) {
    return error.exitCode === 0 || error.code === 'commander.help' ? EXIT.done : EXIT.usage;
  }
  if (error instanceof Fault) {
    const { renderProblem } = await import('../render/problem.ts');
    for (const problem of error.problems)
      process.stderr.write(`${renderProblem(problem, error.file ?? '')}\n`);
    if (error.more > 0) process.stderr.write(`and ${error.more} more\n`);
    return error.exit;
  }
  process.stderr.write(faultReport(error, args));
  return EXIT.bug;
}

function faultReport(error: unknown, args: readonly string[]): string {
  const fault = error instanceof Error ? error : new Error(String(error));
  return [
    `error: bathbook met a fault of its own: ${fault.message}`,
    `  bathbook ${VERSION}, node ${process.versions.node}, ${process.platform} ${process.arch}`,
    `  command: bathbook ${args.join(' ')}`,
    'help: the ledger is as it was before the command; report this with the lines above to whoever gave you bathbook,',
    '      and with BATHBOOK_DEBUG=1 set for the details',
    ...(process.env.BATHBOOK_DEBUG ? [fault.stack ?? ''] : []),
    '',
  ].join('\n');
}
