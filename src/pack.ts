/**
 * Loads the modules that were packed into one file, with the compiled code that the engine kept of an earlier run: compiling takes
 * longer than reading a ledger of a thousand events (tests/bench). Compiled code that does not fit is made anew.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Script } from 'node:vm';
import { ageOfKept, cacheFolder, keep, readKept } from './cache-folder.ts';

/** Gives the exports of a module in the pack by its name; the module is run when it is first asked for. */
type Load = (name: string) => unknown;

const packPath = join(__dirname, 'modules.js');
/** Code that was refused is not written again at once: the engine may run with flags of its own each time. */
const ONCE_A_DAY_MS = 86_400_000;
/** What is kept holds what one run came to; now and then it is written again, with what later runs came to. */
const ONCE_A_WEEK_MS = 7 * 86_400_000;
/** Exit codes from here on are of runs that stopped short, before most of what the next one needs was compiled. */
const STOPPED_SHORT = 64;

function loadPack(): Load {
  const keptPath = pathOfCode();
  const kept = keptPath === undefined ? undefined : readKept(keptPath);
  const script = new Script(readFileSync(packPath, 'utf8'), {
    filename: packPath,
    ...(kept ? { cachedData: kept } : {}),
  });
  if (keptPath !== undefined && (kept === undefined || script.cachedDataRejected === true || isOld(keptPath)))
    keepAfter(script, keptPath);
  return (script.runInThisContext() as (require: NodeJS.Require) => Load)(require);
}

function isOld(path: string): boolean {
  return ageOfKept(path) > ONCE_A_WEEK_MS;
}

const HELP = new Set(['help', '--help', '-h']);

/** One for each command, since each has functions of its own compiled, and one for all help; and for each engine and build. */
function pathOfCode(): string | undefined {
  const folder = cacheFolder(process.env);
  const words = process.argv.slice(2);
  const isHelp = words.some((word) => HELP.has(word));
  const command = isHelp ? 'help' : (words.find((word) => /^[a-z][a-z-]*$/.test(word)) ?? 'help');
  const { node } = process.versions;
  // It looks at the cache, and writes nothing.
  if (command === 'doctor') return undefined;
  return folder && join(folder, 'code', `${process.env.BATHBOOK_BUILD}-${node}-${process.arch}-${command}`);
}

/** Once the command is done, since by then what it needs is compiled. */
function keepAfter(script: Script, path: string): void {
  process.once('exit', (code) => {
    if (code >= STOPPED_SHORT || ageOfKept(path) < ONCE_A_DAY_MS) return;
    // Compiled code fits an engine with the same flags alone, and the next run begins with none.
    const { setFlagsFromString } = require('node:v8') as typeof import('node:v8');
    setFlagsFromString('--opt');
    // That of Node 22 sets another with --no-opt, and does not take it back.
    if (process.versions.v8.startsWith('12.4.')) setFlagsFromString('--osr-from-maglev');
    keep(path, [script.createCachedData()]);
  });
}

export default loadPack();
