/**
 * The table of contents: global options, commands, exit codes. Everything else is loaded when it is called.
 */
const VERSION = process.env.BATHBOOK_VERSION ?? '0.0.0';

process.stdout.on('error', leaveQuietly);
process.stderr.on('error', leaveQuietly);
process.on('SIGINT', () => process.exit(130));

const args = process.argv.slice(2);
if (args.length === 1 && (args[0] === '--version' || args[0] === '-V')) {
  process.stdout.write(`bathbook ${VERSION}\n`);
} else {
  void import('./commands/program.ts')
    .then(({ runProgram }) => runProgram(args))
    .then((exit) => {
      process.exitCode = exit;
    });
}

/** A reader that went away, like `| head`, is no fault of ours. */
function leaveQuietly(error: NodeJS.ErrnoException): void {
  if (error.code !== 'EPIPE') throw error;
  process.exit(process.exitCode ?? 0);
}

export {};
