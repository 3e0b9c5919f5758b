import { basename } from 'node:path';
import { near } from '../ledger/near.ts';
import bash from '../render/completion/bathbook.bash';
import fish from '../render/completion/bathbook.fish';
import zsh from '../render/completion/bathbook.zsh';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';

const SCRIPTS: Readonly<Record<string, string>> = { bash, zsh, fish };
const SHELLS = Object.keys(SCRIPTS);

/** `completion`: what a shell reads to complete our commands. */
export async function run([named]: string[], _options: Options, context: Context): Promise<number> {
  const shell = shellOf(named);
  const script = SCRIPTS[shell]!;
  const install = /To install: (.*)/.exec(script)![1]!;
  if (context.json) context.printJson('completion', await context.clockMs(), { shell, install, script });
  else {
    context.print(script);
    if (context.onTerminal) context.note(`\nTo install it for new terminals:\n  ${install}`);
  }
  return EXIT.done;
}

/** The shell named, else the one of this login. @throws Fault, usage */
function shellOf(named: string | undefined): string {
  const shell = (named ?? basename(process.env.SHELL ?? '')).toLowerCase();
  if (SHELLS.includes(shell)) return shell;
  const meant = near(shell, SHELLS);
  throw usage(
    named === undefined
      ? 'Cannot tell which shell this is'
      : `Cannot complete for the shell "${named}", it takes ${SHELLS.join(', ')}`,
    `type: bathbook completion ${meant ?? 'bash'}`,
  );
}
