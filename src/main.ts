/**
 * The table of contents: global options, commands, exit codes. Everything else is loaded when it is called.
 */

process.stdout.on('error', leave);
process.stderr.on('error', leave);
process.on('SIGINT', () => process.exit(130));

const args = process.argv.slice(2);
if (args.length === 1 && (args[0] === '--version' || args[0] === '-V')) {
  // Put in by the bundler, and not imported: this answer needs no second file.
  process.stdout.write(`bathbook ${process.env.BATHBOOK_VERSION}\n`);
} else {
  void start();
}

async function start(): Promise<void> {
  const { helpAsked } = await import('./commands/help.ts');
  const help = helpAsked(args);
  if (help !== undefined) {
    process.stdout.write(help);
    return;
  }
  const { runProgram } = await import('./commands/program.ts');
  process.exitCode = await runProgram(args);
}

/** A reader that went away, like `| head`, is no fault of ours; a full disk is told, with the exit code for it. */
function leave(error: NodeJS.ErrnoException): void {
  if (error.code === 'EPIPE') process.exit(process.exitCode ?? 0);
  process.stderr.write(
    `Cannot write the answer: ${error.message}\n  help: Make room, or send it elsewhere\n`,
  );
  process.exit(74);
}

export {};
