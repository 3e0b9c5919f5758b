import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join, relative, resolve } from 'node:path';
import sample from '../../data/demo.yaml';
import { create } from '../ledger/append-create.ts';
import { diskProblem } from '../ledger/append-problem.ts';
import { exitCodeOf } from '../ledger/problems.ts';
import { shellWord } from '../ledger/shell-word.ts';
import { run as showBaths } from './baths.ts';
import { rfc3339, useZone } from './clock.ts';
import { Context } from './context.ts';
import type { Options } from './definition.ts';
import { moveDays } from './demo-days.ts';
import { Fault } from './fault.ts';
import { FILE_NAME } from './find-ledger.ts';
import { isDone, remark } from './streams.ts';

function ownFolder(): string {
  try {
    return mkdtempSync(join(tmpdir(), 'bathbook-demo-'));
  } catch (error) {
    const problem = {
      ...diskProblem('create', tmpdir(), error),
      help: 'name a folder: bathbook demo FOLDER',
    };
    throw new Fault([problem], exitCodeOf([problem]));
  }
}

/** `demo`: a sample shop in a folder of its own, and its baths at the end of its last day. */
export async function run([folder]: string[], options: Options, context: Context): Promise<number> {
  useZone(/^ {2}timezone: (\S+)/m.exec(sample)?.[1]);
  const { text, lastMs } = moveDays(sample, await context.clockMs());
  const path = join(folder === undefined ? ownFolder() : resolve(folder), FILE_NAME);
  const problem = create(path, text, { makeFolder: true });
  if (problem) throw new Fault([problem], exitCodeOf([problem]));
  isDone(`The sample shop is made all the same: ${path}`);
  const asOf = rfc3339(lastMs);
  if (context.json) {
    context.printJson('demo', lastMs, { ledger: path, last_event: asOf });
    return 0;
  }
  const exit = await showBaths([], { glance: true }, new Context({ ...options, ledger: path, asOf }));
  // What is to be typed must not be broken: lines are short by themselves.
  if (!context.quiet)
    remark(`${explained(path, { isOwnFolder: folder === undefined, width: context.width }).join('\n')}\n`);
  return exit;
}

/** What to type on the sample, and what it does. */
const STEPS = [
  ['wash 6 model 2 mask', 'log a wash'],
  ['undo', 'take it back'],
  ['entries --last 5 --states', 'the latest entries'],
  ['outlook', 'how long they last'],
  ['rotate --dry-run', 'a change, not logged'],
  ['report --out page.html', 'a page for a browser'],
  ['--help', 'all commands'],
] as const;

function explained(path: string, on: { isOwnFolder: boolean; width: number }): string[] {
  const me = programName();
  const isWindows = process.platform === 'win32';
  const file = isWindows ? path : shellWord(path);
  const left = Math.max(...STEPS.map(([step]) => me.length + step.length)) + 5;
  const isWide = STEPS.every(([, about]) => left + about.length <= on.width);
  const away = isWindows
    ? `del ${file}`
    : on.isOwnFolder
      ? `rm -r ${shellWord(dirname(path))}`
      : `rm ${file}`;
  return [
    '',
    'Made a sample shop, six weeks of an invented bench, in',
    `  ${file}`,
    'Above are its baths as they were at its last entry.',
    '',
    'To try things on it, first',
    `  ${isWindows ? 'set' : 'export'} BATHBOOK_LEDGER=${file}`,
    'then any of',
    ...STEPS.map(([step, about]) => (isWide ? `  ${me} ${step}`.padEnd(left) + about : `  ${me} ${step}`)),
    '',
    'To take it away again',
    `  ${isWindows ? 'set BATHBOOK_LEDGER=' : 'unset BATHBOOK_LEDGER'}`,
    `  ${away}`,
    `For a shop of your own: ${me} setup`,
  ];
}

/** As the person started it: by its name, or by its file. */
function programName(): string {
  const started = process.argv[1] ?? 'bathbook';
  return basename(started).endsWith('.js') ? `node ${nearer(started)}` : 'bathbook';
}

/** From here, unless this folder was removed. */
function nearer(path: string): string {
  try {
    return relative(process.cwd(), path) || path;
  } catch {
    return path;
  }
}
