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

function loadPack(): Load {
  const keptPath = pathOfCode();
  const kept = keptPath === undefined ? undefined : readKept(keptPath);
  const script = new Script(readFileSync(packPath, 'utf8'), {
    filename: packPath,
    ...(kept ? { cachedData: kept } : {}),
  });
  if (keptPath !== undefined && (kept === undefined || script.cachedDataRejected === true))
    keepAfter(script, keptPath);
  return (script.runInThisContext() as (require: NodeJS.Require) => Load)(require);
}

/** One for each command, since each has functions of its own compiled; and for each engine and build. */
function pathOfCode(): string | undefined {
  const folder = cacheFolder(process.env);
  const command = process.argv.slice(2).find((word) => /^[a-z][a-z-]*$/.test(word)) ?? 'none';
  const { node } = process.versions;
  // It looks at the cache, and writes nothing.
  if (command === 'doctor') return undefined;
  return folder && join(folder, 'code', `${process.env.BATHBOOK_BUILD}-${node}-${process.arch}-${command}`);
}

/** Once the command is done, since by then what it needs is compiled. */
function keepAfter(script: Script, path: string): void {
  process.once('exit', (code) => {
    if (code === 130 || code === 70 || ageOfKept(path) < ONCE_A_DAY_MS) return;
    // Compiled code fits an engine with the same flags alone, and the next run begins with none.
    const { setFlagsFromString } = require('node:v8') as typeof import('node:v8');
    setFlagsFromString('--opt');
    // That of Node 22 sets another with --no-opt, and does not take it back.
    if (process.versions.v8.startsWith('12.4.')) setFlagsFromString('--osr-from-maglev');
    keep(path, [script.createCachedData()]);
  });
}

export default loadPack();
