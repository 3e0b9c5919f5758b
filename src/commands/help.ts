/** Help to stdout. Needs no argument parser, so that it starts soon. */
import { commandHelp, programHelp } from '../render/help.ts';
import { COMMANDS, type CommandDefinition, GLOBAL_OPTIONS, GROUPS, WRITE_OPTIONS } from './definition.ts';
import { columns } from './streams.ts';

/** What help, and the manual, are made of. */
export const DEFINITIONS = {
  commands: COMMANDS,
  groups: GROUPS,
  globalOptions: GLOBAL_OPTIONS,
  writeOptions: WRITE_OPTIONS,
};

/** The help that these arguments ask for and nothing else; undefined when they ask for more. */
export function helpAsked(args: readonly string[]): string | undefined {
  const [first = '--help', second = '--help', ...more] = args;
  if (more.length > 0) return undefined;
  const words = first === 'help' ? [second, first] : [first, second];
  const rest = words.filter((word) => !['help', '--help', '-h'].includes(word));
  if (rest.length === 0) return helpText(undefined);
  const command = COMMANDS.find(({ name }) => name === rest[0]);
  return rest.length === 1 && command && args.length === 2 ? helpText(command) : undefined;
}

/** Help on a command, or on the program. */
export function helpText(command: CommandDefinition | undefined): string {
  const width = columns(60, 100);
  const text = command ? commandHelp(command, DEFINITIONS, width) : programHelp(DEFINITIONS, width);
  return `${text}\n`;
}
