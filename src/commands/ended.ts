/** A command that stopped short: what to say, and the exit code. */
import { CommanderError } from 'commander';
import type { Problem } from '../ledger/problem.ts';
import { shellWord } from '../ledger/shell-word.ts';
import { printable, printableJson } from '../render/printable.ts';
import { renderProblem } from '../render/problem.ts';
import type { CommandDefinition } from './definition.ts';
import { EXIT, Fault } from './fault.ts';
import { remark, remarkColumns, remarksOnTerminal } from './streams.ts';
import { usageProblem } from './usage-error.ts';
import { VERSION } from './version.ts';

/** Tells, to stderr, why the command stopped. What a writing command was asked to log is told too: nothing typed is lost. */
export function ended(
  error: unknown,
  args: readonly string[],
  called: CommandDefinition | undefined,
): number {
  const typed = called?.writes === true ? `bathbook ${args.map(shellWord).join(' ')}` : undefined;
  if (error instanceof CommanderError) {
    const isHelp = error.code === 'commander.help';
    if (!isHelp) tell(told(usageProblem(error, called), ''), notLogged(typed));
    return EXIT.usage;
  }
  if (error instanceof Fault) {
    const { problems, file = '', more, unlogged, exit } = error;
    const left = more > 0 ? [`and ${more} more`] : [];
    const asked = problems.length > 0 ? notLogged(unlogged ?? typed) : undefined;
    tell(...problems.map((problem) => told(problem, file)), ...left, asked);
    return exit;
  }
  if (isRemovedFolder(error)) {
    tell(renderProblem(REMOVED_FOLDER, ''), notLogged(typed));
    return EXIT.noFile;
  }
  tell(faultReport(error, args));
  return EXIT.bug;
}

function told(problem: Problem, file: string): string {
  return renderProblem(problem, file, remarksOnTerminal() ? remarkColumns(60, 200) : undefined);
}

const REMOVED_FOLDER: Problem = {
  code: 'no-such-file',
  message: 'Cannot go by this folder, it was removed',
  help: 'go to another: cd; or name whole paths, like --ledger /path/to/bathbook.yaml',
  severity: 'error',
};

/** Node asks the system for the folder wherever a path is not absolute. */
function isRemovedFolder(error: unknown): boolean {
  return (error as NodeJS.ErrnoException).syscall === 'uv_cwd';
}

function tell(...texts: (string | undefined)[]): void {
  for (const text of texts) if (text !== undefined) remark(`${text}\n`);
}

const NOT_LOGGED = 'Not logged:';

function notLogged(typed: string | undefined): string | undefined {
  if (typed === undefined) return undefined;
  const shown = printableJson(typed);
  // A terminal that would break the line gets it below, whole, to be copied from the first column.
  const isWide = remarksOnTerminal() && NOT_LOGGED.length + 1 + shown.length > remarkColumns(60, 200);
  return `${NOT_LOGGED}${isWide ? '\n' : ' '}${shown}`;
}

function faultReport(error: unknown, args: readonly string[]): string {
  const fault = error instanceof Error ? error : new Error(String(error));
  return [
    `bathbook met a fault of its own: ${printable(fault.message)}`,
    `  bathbook ${VERSION}, node ${process.versions.node}, ${process.platform} ${process.arch}`,
    `  typed: bathbook ${args.map(shellWord).join(' ')}`,
    '  help: nothing in the ledger was changed but perhaps a line added; look with: bathbook entries --last 3',
    '        Please report the lines above to the people who keep bathbook; BATHBOOK_DEBUG=1 adds details',
    ...(process.env.BATHBOOK_DEBUG ? [fault.stack ?? ''] : []),
  ].join('\n');
}
