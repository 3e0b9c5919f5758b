import { refusalProblem } from '../bath/refusal.ts';
import { openShop } from '../bath/shop.ts';
import { readLedgerAt } from '../ledger/append-read.ts';
import { gather } from '../ledger/check.ts';
import { withExcerpt } from '../ledger/excerpt.ts';
import type { Problem } from '../ledger/problem.ts';
import { exitCodeOf } from '../ledger/problems.ts';
import { statusOf } from '../outlook/status.ts';
import { count } from '../render/format.ts';
import { renderProblem } from '../render/problem.ts';
import { catalogue } from '../substance/catalogue.ts';
import { useZone } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { suitEngine } from './engine.ts';
import { EXIT, Fault } from './fault.ts';

interface Checked {
  file: string;
  problems: Problem[];
  more: number;
  /** Events in the file, and those that count at the clock. */
  events: number;
  counting: number;
}

/** `check`: silent and 0 when all is well; else every problem with its place. */
export async function run(files: string[], options: Options, context: Context): Promise<number> {
  const paths = files.length > 0 ? files : [context.ledger().path];
  suitEngine(paths);
  const checked: Checked[] = [];
  let clockMs = Date.now();
  for (const path of paths) {
    const one = await checkFile(path, options.strict === true, context);
    clockMs = one.clockMs;
    checked.push(one);
  }
  if (context.json) context.printJson('check', clockMs, { files: checked.map(documentOf) });
  else for (const one of checked) context.print(textOf(one, context.onTerminal ? context.width : undefined));
  return Math.max(EXIT.done, ...checked.map(({ problems }) => exitCodeOf(problems)));
}

async function checkFile(
  path: string,
  strict: boolean,
  context: Context,
): Promise<Checked & { clockMs: number }> {
  const read = await readLedgerAt(path, catalogue);
  if ('code' in read) {
    return {
      file: path,
      problems: [read],
      more: 0,
      events: 0,
      counting: 0,
      clockMs: await context.clockMs(),
    };
  }
  const { file } = read;
  const zone = zoneProblems(file.header?.shop.timezone);
  const clockMs = await context.clockMs();
  const { problems, moreProblems, settled } = await gather(file, { clockMs, catalogue, strict });
  const sound = file.header !== null && exitCodeOf(problems) === EXIT.done;
  const impossible = sound ? impossibleOnes(openShop(file.header!), settled.entries, clockMs) : [];
  return {
    file: path,
    problems: [...zone, ...problems, ...impossible.slice(0, MOST).map((one) => withExcerpt(file.text, one))],
    more: moreProblems + Math.max(0, impossible.length - MOST),
    events: file.events.length,
    counting: settled.entries.length,
    clockMs,
  };
}

const MOST = 20;

/** What is written soundly and yet cannot have happened, like a wash in an empty bath. */
function impossibleOnes(
  shop: ReturnType<typeof openShop>,
  entries: Parameters<typeof statusOf>[1],
  clockMs: number,
): Problem[] {
  return statusOf(shop, entries, clockMs).replayed.refused.map((one) => refusalProblem(one, shop));
}

/** Sets the zone of the file, so that words like "yesterday" are in it. */
function zoneProblems(zone: string | undefined): readonly Problem[] {
  try {
    useZone(zone);
    return [];
  } catch (error) {
    if (error instanceof Fault) return error.problems;
    throw error;
  }
}

function textOf({ file, problems, more }: Checked, width: number | undefined): string {
  const lines = problems.map((problem) => renderProblem(problem, file, width));
  return [...lines, ...(more > 0 ? [`${file}: and ${count(more, 'more problem')}`] : [])].join('\n');
}

function documentOf({ file, problems, more, events, counting }: Checked): Record<string, unknown> {
  const sound = problems.every(({ severity }) => severity !== 'error');
  return { file, sound, events, counting, problems, more_problems: more };
}
