/** What commander objects to, as a problem in the words of this program. */
import type { CommanderError } from 'commander';
import { near } from '../ledger/near.ts';
import type { Problem } from '../ledger/problem.ts';
import { COMMANDS, type CommandDefinition } from './definition.ts';

/** A usage error of the argument parser as a problem in our words, with the next thing to type. */
export function usageProblem(error: CommanderError, command: CommandDefinition | undefined): Problem {
  const quoted = /'([^']*)'/.exec(error.message)?.[1] ?? '';
  const { message, help } = wording(error, quoted, command);
  return { code: 'usage', message, help, severity: 'error' };
}

function wording(
  error: CommanderError,
  quoted: string,
  command: CommandDefinition | undefined,
): { message: string; help: string } {
  const example = command ? `like: ${command.examples[0]![0]}` : 'all commands: bathbook --help';
  switch (error.code) {
    case 'commander.unknownCommand': {
      const meant = near(
        quoted,
        COMMANDS.map(({ name }) => name),
      );
      const all = 'all commands: bathbook --help';
      return {
        message: `Cannot find a command named "${quoted}"`,
        help: meant ? `did you mean "${meant}"? ${all}` : all,
      };
    }
    case 'commander.unknownOption': {
      const meant = /Did you mean (one of )?(.*)\?/.exec(error.message)?.[2];
      const see = `see: bathbook ${command ? `${command.name} ` : ''}--help`;
      return {
        message: `Cannot use the option "${quoted}", ${command ? `${command.name} has` : 'there is'} none of that name`,
        help: meant ? `did you mean ${meant}? ${see}` : see,
      };
    }
    case 'commander.optionMissingArgument':
      return { message: `Cannot use "${quoted.replaceAll(/[<>]/g, '')}" without its value`, help: example };
    case 'commander.missingArgument':
      return { message: `Cannot ${doing(command)} without the ${quoted}`, help: example };
    case 'commander.excessArguments':
      return { message: `Cannot take so many words for "${command?.name}"`, help: example };
    default:
      return { message: error.message.replace(/^error: /, '').replaceAll("'", '"'), help: example };
  }
}

/** Most commands are named by a verb. */
function doing(command: CommandDefinition | undefined): string {
  return command?.name === 'reading' ? 'log a reading' : (command?.name ?? 'go on');
}
