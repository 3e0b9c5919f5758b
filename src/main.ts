/**
 * The table of contents: global options, commands, exit codes. Everything else is loaded when it is called.
 */
import { writeSync } from 'node:fs';

process.on('SIGINT', () => process.exit(130));

const args = process.argv.slice(2);
if (args.length === 1 && (args[0] === '--version' || args[0] === '-V')) {
  version();
} else if (args[0] === '__complete') {
  void offer();
} else {
  void start();
}

/** Put in by the bundler, and not imported: this answer needs no second file. */
function version(): void {
  try {
    writeSync(1, `bathbook ${process.env.BATHBOOK_VERSION}\n`);
  } catch (error) {
    process.exitCode = (error as NodeJS.ErrnoException).code === 'EPIPE' ? 0 : 74;
  }
}

/** A shell asks, at each press of a key: answered from a small file of its own. */
async function offer(): Promise<void> {
  (await import('./commands/complete.ts')).complete(args.slice(1));
}

async function start(): Promise<void> {
  const { helpAsked } = await import('./commands/help.ts');
  const help = helpAsked(args);
  if (help !== undefined) {
    (await import('./commands/streams.ts')).say(help);
    return;
  }
  const { runProgram } = await import('./commands/program.ts');
  process.exitCode = await runProgram(args);
}
