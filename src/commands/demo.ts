import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, relative, resolve } from 'node:path';
import sample from '../../data/demo.yaml';
import { create } from '../ledger/append-create.ts';
import { exitCodeOf } from '../ledger/problems.ts';
import { run as showBaths } from './baths.ts';
import { rfc3339, useZone } from './clock.ts';
import { Context } from './context.ts';
import type { Options } from './definition.ts';
import { moveDays } from './demo-days.ts';
import { Fault } from './fault.ts';
import { FILE_NAME } from './find-ledger.ts';
import { isDone } from './streams.ts';

/** `demo`: a sample shop in a folder of its own, and its baths at the end of its last day. */
export async function run([folder]: string[], options: Options, context: Context): Promise<number> {
  useZone(/^ {2}timezone: (\S+)/m.exec(sample)?.[1]);
  const { text, lastMs } = moveDays(sample, await context.clockMs());
  const path = join(
    folder === undefined ? mkdtempSync(join(tmpdir(), 'bathbook-demo-')) : resolve(folder),
    FILE_NAME,
  );
  const problem = create(path, text, { makeFolder: true });
  if (problem) throw new Fault([problem], exitCodeOf([problem]));
  isDone(`The sample shop is made all the same: ${path}`);
  const asOf = rfc3339(lastMs);
  if (context.json) {
    context.printJson('demo', lastMs, { ledger: path, last_event: asOf });
    return 0;
  }
  const exit = await showBaths([], { glance: true }, new Context({ ...options, ledger: path, asOf }));
  for (const line of nextSteps(path)) context.note(line);
  return exit;
}

function nextSteps(path: string): string[] {
  const me = programName();
  const set = process.platform === 'win32' ? 'set' : 'export';
  return [
    '',
    'The sample shop is invented. Its baths are shown as they were at its last entry.',
    'To try things on it:',
    `  ${set} BATHBOOK_LEDGER=${path}`,
    `  ${me} wash 6 model 2 mask`,
    `  ${me} undo`,
    `  ${me} entries --last 5 --states`,
    `  ${me} rotate --dry-run`,
    `  ${me} --help`,
  ];
}

/** As the person started it: by its name, or by its file. */
function programName(): string {
  const started = process.argv[1] ?? 'bathbook';
  return basename(started).endsWith('.js')
    ? `node ${relative(process.cwd(), started) || started}`
    : 'bathbook';
}
