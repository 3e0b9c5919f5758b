/** `wash --lines FILE`: one wash a line; all are logged, or none. */
import { CommanderError } from 'commander';
import type { Entry, LedgerEvent, WashEvent } from '../ledger/event.ts';
import { knownNames } from '../ledger/names.ts';
import type { Problem } from '../ledger/problem.ts';
import { quickCheck } from '../ledger/sound.ts';
import { count } from '../render/format.ts';
import { catalogue } from '../substance/catalogue.ts';
import { readable, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { COMMANDS, type Options } from './definition.ts';
import { EXIT, Fault, usage } from './fault.ts';
import { importText } from './import-text.ts';
import { CLOCK_LEEWAY_MS } from './try-out.ts';
import { usageProblem } from './usage-error.ts';
import { washBody } from './wash-body.ts';
import { type ReadLine, readLine } from './wash-line.ts';
import { refuseOptions, tellSeveral } from './wash-several.ts';
import { washWarnings } from './wash-warnings.ts';
import { readWhen } from './when.ts';
import { type Bench, type Body, writeEvents } from './write.ts';

const NOT_BESIDE = [
  'again',
  'about',
  'since',
  'until',
  'mesh',
  'meshUnit',
  'asPart',
  'timed',
  'lineMode',
  'volume',
  'area',
];
const STDIN = '-';
/** More than this nobody reads at once. */
const MOST_PROBLEMS = 20;
const MOST_WASHES = 1000;

interface Lined {
  line: number;
  body: Body;
}

export async function runLines(args: string[], options: Options, context: Context): Promise<number> {
  refuseOptions(options, NOT_BESIDE, '--lines');
  const path = options.lines as string;
  if (args.length > 0)
    throw usage(`Cannot take both a load ("${args.join(' ')}") and --lines`, 'leave one of them out');
  if (path === STDIN && context.canAsk)
    context.note('One wash a line, like: 17:30 6 model 2 mask. An end of file (Ctrl-D) logs them');
  const text = textOf(path);
  const name = path === STDIN ? 'standard input' : path;
  let lined: Lined[] = [];
  let twins: string[] = [];
  const build = async (bench: Bench): Promise<Body[]> => {
    lined = await linesOf(text, { name, options, bench });
    twins = lined.flatMap(({ body }) => twinOf(body, bench.settled.entries) ?? []);
    return lined.map(({ body }) => body);
  };
  const nameOf = (place: number) => `${name}:${lined[place]!.line}: `;
  const logged = await writeEvents(context, options, build, { before: true, nameOf });
  const odd = logged.written.flatMap(({ event }, place) =>
    washWarnings(event as WashEvent, logged, false).map((one) => `Line ${lined[place]!.line}: ${one}`),
  );
  tellSeveral(context, logged, { warnings: [...twinsNote(twins, lined.length), ...odd], data: {} });
  return EXIT.done;
}

function textOf(path: string): string {
  try {
    return importText(path);
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    const problems = error.problems.map((one) => ({
      ...one,
      message: one.message.replace('Cannot import', 'Cannot read the lines of'),
      ...(one.help ? { help: one.help.replace('a csv or ndjson file', 'a text file') } : {}),
    }));
    throw new Fault(problems, error.exit, error.file);
  }
}

/** @throws Fault, with every line that cannot be used */
async function linesOf(
  text: string,
  { name, options, bench }: { name: string; options: Options; bench: Bench },
): Promise<Lined[]> {
  const lined: Lined[] = [];
  const problems: Problem[] = [];
  let day: string | undefined;
  for (const [place, typed] of text
    .replace(/^\uFEFF/, '')
    .split(/\r?\n/)
    .entries()) {
    const line = place + 1;
    try {
      const read = readLine(typed);
      if (read.kind === 'day') day = rfc3339(await readWhen(read.day, bench.clockMs, 'starts')).slice(0, 10);
      if (read.kind === 'wash') lined.push({ line, body: await bodyOf(read, { day, options, bench }) });
    } catch (error) {
      problems.push({ ...problemOf(error), line });
    }
  }
  if (problems.length > 0)
    throw new Fault(
      problems.slice(0, MOST_PROBLEMS),
      EXIT.data,
      name,
      Math.max(0, problems.length - MOST_PROBLEMS),
    );
  if (lined.length === 0)
    throw usage(`Cannot find a wash in ${name}`, 'write one a line, like: 17:30 6 model 2 mask');
  if (lined.length > MOST_WASHES)
    throw usage(
      `Cannot take ${lined.length} washes at once, allowed are ${MOST_WASHES}`,
      'part the file, or see: bathbook import --help',
    );
  return lined;
}

function problemOf(error: unknown): Problem {
  if (error instanceof CommanderError)
    return usageProblem(
      error,
      COMMANDS.find(({ name }) => name === 'wash'),
    );
  if (error instanceof Fault) return error.problems[0]!;
  throw error;
}

async function bodyOf(
  read: Extract<ReadLine, { kind: 'wash' }>,
  on: { day: string | undefined; options: Options; bench: Bench },
): Promise<Body> {
  const { bench, options } = on;
  const at = await timeOf(read.time, on);
  const { by, note } = read.options;
  const body: Body = {
    ...washBody(read.args, { ...options, ...read.options }, bench.shop),
    ...(at === undefined ? {} : { at }),
    ...(typeof by === 'string' ? { by } : {}),
    ...(typeof note === 'string' ? { note } : {}),
  };
  await refuseUnsound(body, bench);
  return body;
}

/** Undefined where the command's own time counts. */
async function timeOf(
  typed: string | undefined,
  { day, options, bench }: { day: string | undefined; options: Options; bench: Bench },
): Promise<string | undefined> {
  if (typed === undefined) {
    if (options.at !== undefined) return undefined;
    throw usage(
      'Cannot log a wash without its time',
      'begin the line with it: 17:30 6 model; or give --at to the command, for all that have none',
    );
  }
  const isClock = /^\d{1,2}:/.test(typed);
  const ms = await readWhen(isClock && day ? `${day} ${typed}` : typed, bench.clockMs);
  if (ms <= bench.clockMs + CLOCK_LEEWAY_MS) return rfc3339(Math.floor(ms / 1000) * 1000);
  throw usage(
    `Cannot log at ${readable(ms)}, that is after now (${readable(bench.clockMs)})`,
    isClock && !day ? `for the day before: yesterday ${typed}` : 'give a time that has been',
  );
}

/** What the ledger would not take, told with the line. */
async function refuseUnsound(body: Body, { file, atMs }: Bench): Promise<void> {
  const known = knownNames(file.header!, catalogue);
  const event = { id: 'new', at: rfc3339(atMs), ...body } as LedgerEvent;
  if (quickCheck(event, known) !== null) return;
  const { checkEvent, explainEvent } = await import('../ledger/check-event.ts');
  if (checkEvent(event, known) !== null) return;
  const [first] = explainEvent(event, known, () => undefined);
  if (!first) return;
  const { path: _, atKey: __, ...told } = first;
  throw new Fault([{ ...told, severity: 'error' }], EXIT.data);
}

/** The id of a wash with the same time and load that is in the ledger. */
function twinOf(body: Body, entries: readonly Entry[]): string | undefined {
  if (body.at === undefined) return undefined;
  const atMs = Date.parse(body.at);
  const key = loadKey(body);
  return entries.find(
    ({ atMs: ms, event }) => ms === atMs && event.what === 'wash' && loadKey({ ...event }) === key,
  )?.event.id;
}

function loadKey({ parts, volume_ml, area_cm2 }: Record<string, unknown>): string {
  return JSON.stringify([Object.entries(parts ?? {}).sort(), volume_ml ?? null, area_cm2 ?? null]);
}

function twinsNote(twins: readonly string[], lines: number): string[] {
  if (twins.length === 0) return [];
  const which = twins.length > 3 ? `${twins.slice(0, 3).join(', ')} and more` : twins.join(', ');
  return [
    `${count(twins.length, 'line')} of ${lines} ${twins.length === 1 ? 'stands' : 'stand'} in the ledger already with the same time and load (${which}); if they were logged twice, undo them`,
  ];
}
