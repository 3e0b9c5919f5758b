/**
 * How every command that changes the ledger goes about it: read under the lock, build the event, replay with it,
 * refuse what cannot have happened, append, and hand back what there is to tell.
 */

import { refusalProblem } from '../bath/refusal.ts';
import type { Step } from '../bath/replay.ts';
import { openShop, type Shop } from '../bath/shop.ts';
import { type Bath, copyBath } from '../bath/state.ts';
import { type AppendOptions, append, type Decision } from '../ledger/append.ts';
import type { LedgerEvent, Written } from '../ledger/event.ts';
import { withExcerpt } from '../ledger/excerpt.ts';
import { newId } from '../ledger/id.ts';
import { writeLine } from '../ledger/line.ts';
import type { Problem } from '../ledger/problem.ts';
import type { LedgerFile } from '../ledger/read.ts';
import { type Settled, settle } from '../ledger/settle.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { count } from '../render/format.ts';
import { catalogue } from '../substance/catalogue.ts';
import { readable, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault, usage } from './fault.ts';
import { reclaimedSolvents } from './reclaim-clean.ts';
import { readWhen } from './when.ts';

/** What a command needs to build its event. */
export interface Bench {
  file: LedgerFile;
  /** Without the new event. */
  settled: Settled;
  shop: Shop;
  clockMs: number;
  atMs: number;
}

/** An event without what every event has; those are added here. */
export type Body = Record<string, unknown> & { what: LedgerEvent['what'] };

/** The step that the new event made in the replay, kept; of several, from before the first to after the last. */
export interface KeptStep extends Step {
  after: Bath[];
}

export interface Logged {
  /** The first of them. */
  event: LedgerEvent;
  line: string;
  /** All that were written, in the order of the file; nearly always one. */
  written: readonly { event: LedgerEvent; line: string }[];
  path: string;
  shop: Shop;
  /** With the event. */
  status: Status;
  /** Without it, at the same clock; only where asked for. */
  before?: Status;
  step?: KeptStep;
  /** Solvents that something was reclaimed as. */
  reclaimed: ReadonlySet<string>;
  dryRun: boolean;
  /** The event lies before others that are in the ledger already. */
  backDated: boolean;
  /** The time of the latest event, when the clock has not come to it yet. */
  aheadMs?: number;
}

/** A clock may run a little fast, but an event cannot be planned. */
const CLOCK_LEEWAY_MS = 5 * 60_000;

/**
 * Builds an event and appends it; with `--dry-run` does all but the writing.
 *
 * @param build - the event without id, time, initials and note; called under the lock
 * @param wants - `before`: the status without the event as well, at the same clock
 * @throws Fault when what was typed cannot be used, the ledger cannot be written, or the event cannot have happened
 */
export async function writeEvent(
  context: Context,
  options: Options,
  build: (bench: Bench) => Body | Promise<Body>,
  wants: { before?: boolean } = {},
): Promise<Logged> {
  return writeEvents(context, options, async (bench) => [await build(bench)], wants);
}

/** As {@link writeEvent}, for several events of the same time; all of them are written at once, or none. */
export async function writeEvents(
  context: Context,
  options: Options,
  build: (bench: Bench) => Body[] | Promise<Body[]>,
  wants: { before?: boolean } = {},
): Promise<Logged> {
  const { path } = context.ledger();
  let logged: (Tried & Pick<Logged, 'shop'>) | undefined;
  let events: LedgerEvent[] = [];
  const decide = async (file: LedgerFile): Promise<Decision> => {
    const bench = await benchOf(context, options, file);
    events = eventsOf(await build(bench), bench, options);
    const outcome = await tryOut(events, bench, wants.before === true);
    if ('refused' in outcome) return outcome;
    logged = { ...outcome, shop: bench.shop };
    return { events };
  };
  const settings: AppendOptions = { catalogue, command: 'bathbook', dryRun: options.dryRun === true };
  const done = await append(path, decide, settings);
  await context.tell(done.notes, path);
  if (done.problems.length > 0 || !logged) throw await notLogged(path, done.problems, events);
  const written = events.map((event, place) => ({ event, line: done.lines[place]!.trimStart() }));
  return { ...logged, ...written[0]!, written, path, dryRun: options.dryRun === true };
}

async function benchOf(context: Context, options: Options, file: LedgerFile): Promise<Bench> {
  const shop = openShop(file.header!);
  context.useShop(shop);
  const clockMs = await context.clockMs();
  const at = options.at as string | undefined;
  const atMs = at === undefined ? clockMs : await readWhen(at, clockMs);
  if (atMs > clockMs + CLOCK_LEEWAY_MS) {
    throw usage(
      `Cannot log at ${readable(atMs)}, that is after now (${readable(clockMs)})`,
      at && /^\d{1,2}:\d{2}$/.test(at)
        ? `for the day before: --at "yesterday ${at}"`
        : 'give a time that has been',
    );
  }
  const latestMs = Math.max(clockMs, atMs);
  const settled = await settle(file.events, latestMs, file.header, catalogue);
  return { file, settled, shop, clockMs: latestMs, atMs: Math.floor(atMs / 1000) * 1000 };
}

function eventsOf(bodies: readonly Body[], bench: Bench, options: Options): LedgerEvent[] {
  const ids = new Set(bench.file.events.map(({ event }) => event.id));
  return bodies.map((body) => {
    const id = newId((one) => ids.has(one), Math.random);
    ids.add(id);
    return eventOf(id, body, bench, options);
  });
}

function eventOf(id: string, body: Body, bench: Bench, options: Options): LedgerEvent {
  const by = (options.by as string | undefined) ?? process.env.BATHBOOK_BY;
  const typedLater = options.at !== undefined && bench.clockMs - bench.atMs > 60_000;
  return {
    id,
    at: rfc3339(bench.atMs),
    ...body,
    ...(typedLater ? { logged: rfc3339(bench.clockMs) } : {}),
    ...(by ? { by } : {}),
    ...(options.note === undefined ? {} : { note: options.note }),
  } as LedgerEvent;
}

type Tried = Pick<Logged, 'status' | 'before' | 'step' | 'reclaimed' | 'backDated' | 'aheadMs'>;

/** Replays with the events; refused when one cannot be, or when they make another impossible. */
async function tryOut(
  events: readonly LedgerEvent[],
  bench: Bench,
  wantsBefore: boolean,
): Promise<Tried | { refused: Problem[] }> {
  const { file, shop, clockMs } = bench;
  const place = file.events.length;
  const added = events.map(
    (event, nth): Written => ({ event, atMs: bench.atMs, line: 0, place: place + nth }),
  );
  const mine = new Set(events.map(({ id }) => id));
  const settled = await settle([...file.events, ...added], clockMs, file.header, catalogue);
  const errors = settled.problems.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) return { refused: errors.map((one) => inPlace(file, one)) };
  let step: KeptStep | undefined;
  const watch = (made: Step) => {
    if (!mine.has(made.entry.event.id)) return;
    const before = step?.before ?? made.before.map(copyBath);
    step = { ...made, before, after: made.baths.map(copyBath) };
  };
  const status = statusOf(shop, settled.entries, clockMs, { watch, days: localDays });
  const latestMs = file.events.reduce((latest, { atMs }) => Math.max(latest, atMs), 0);
  const refused = status.replayed.refused;
  const impossible = refused.filter(({ entry }) => mine.has(entry.event.id));
  if (impossible.length > 0) {
    // Several readings of one empty bath are refused for one reason, told once.
    const told = impossible.map((one) => withoutPlace(refusalProblem(one, shop)));
    return { refused: told.filter(({ message }, nth) => message !== told[nth - 1]?.message) };
  }
  const before = wantsBefore || refused.length > 0 ? statusBefore(bench) : undefined;
  const broken = before ? newlyRefused(status, before) : [];
  if (broken.length > 0) return { refused: [breaksOthers(events[0]!, broken, bench)] };
  return {
    status,
    ...(before && wantsBefore ? { before } : {}),
    ...(step ? { step } : {}),
    reclaimed: reclaimedSolvents(settled.entries),
    ...(latestMs > clockMs + CLOCK_LEEWAY_MS ? { aheadMs: latestMs } : {}),
    backDated: settled.entries.some((entry) => entry.atMs > bench.atMs),
  };
}

function statusBefore({ settled, shop, clockMs }: Bench): Status {
  return statusOf(shop, settled.entries, clockMs);
}

/** Events that cannot have happened now and could before. */
export function newlyRefused(status: Status, before: Status): Status['replayed']['refused'] {
  const old = new Set(before.replayed.refused.map(({ entry }) => entry.event.id));
  return status.replayed.refused.filter(({ entry }) => !old.has(entry.event.id));
}

/** With its line, where the problem is in the file; the new event stands on none. */
function inPlace({ text }: LedgerFile, problem: Problem): Problem {
  return problem.line ? withExcerpt(text, problem) : withoutPlace(problem);
}

/** A problem of an event that is not in the file yet. */
function withoutPlace({ code, message, help, severity }: Problem): Problem {
  return {
    code,
    message: message.replace(/^Event "[^"]+" \((\S+)\)/, 'This $1'),
    ...(help ? { help } : {}),
    severity,
  };
}

/** One correction can make all that follows impossible; the first is told, and that it is the correction that does it. */
function breaksOthers(
  event: LedgerEvent,
  broken: Status['replayed']['refused'],
  { file, shop }: Bench,
): Problem {
  const first = inPlace(file, refusalProblem(broken[0]!, shop));
  const others = broken.length === 1 ? '' : `; and ${count(broken.length - 1, 'other event')}`;
  return {
    ...first,
    message: `This ${event.what} would make what is logged impossible. ${first.message}${others}`,
    help: `Correct ${broken.length === 1 ? 'that event' : 'those events'} first, or log what was done instead`,
  };
}

/** Nothing that was typed is lost: the lines that were not written are shown. */
async function notLogged(
  path: string,
  problems: readonly Problem[],
  events: readonly LedgerEvent[],
): Promise<Fault> {
  const { exitCodeOf } = await import('../ledger/problems.ts');
  // A problem without a line is of what was typed, not of the file.
  const file = problems.some(({ line }) => line !== undefined) ? path : undefined;
  const fault = new Fault(problems, exitCodeOf(problems) || EXIT.data, file);
  if (events.length > 0) fault.unlogged = events.map((event) => writeLine(event).trim()).join('\n');
  return fault;
}
