/**
 * How every command that changes the ledger goes about it: read under the lock, build the event, replay with it,
 * refuse what cannot have happened, append, and hand back what there is to tell.
 */

import type { Step } from '../bath/replay.ts';
import { openShop, type Shop } from '../bath/shop.ts';
import type { Bath } from '../bath/state.ts';
import { append, type Decision, WHOLE } from '../ledger/append.ts';
import type { LedgerEvent } from '../ledger/event.ts';
import { newId } from '../ledger/id.ts';
import { writeLine } from '../ledger/line.ts';
import type { Problem } from '../ledger/problem.ts';
import type { LedgerFile } from '../ledger/read.ts';
import { type Settled, settle } from '../ledger/settle.ts';
import type { LastWash } from '../outlook/factors-band.ts';
import type { Status } from '../outlook/status.ts';
import type { Stock } from '../records/stock.ts';
import type { Container } from '../records/waste.ts';
import { catalogue } from '../substance/catalogue.ts';
import { readable, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault, usage } from './fault.ts';
import { isDone } from './streams.ts';
import { CLOCK_LEEWAY_MS, type Tried, tryOut } from './try-out.ts';
import { Way } from './way.ts';
import { isExactTime, readWhen } from './when.ts';

/** What a command needs to build its event. */
export interface Bench {
  /** The ledger; of one read the short way, its last events alone. */
  file: LedgerFile;
  /** How it was read. */
  way: Way;
  /** Without the new event; of a ledger read the short way, the last entries alone. */
  settled: Settled;
  shop: Shop;
  clockMs: number;
  atMs: number;
}

/** An event without what every event has; those are added here, where it does not bring its own time, initials and note. */
export type Body = Record<string, unknown> & {
  what: LedgerEvent['what'];
  at?: string;
  by?: string;
  note?: string;
};

/** The step that the new event made in the replay, kept; of several, from before the first to after the last. */
export interface KeptStep extends Step {
  after: Bath[];
  /** Of a wash of before the clock: its figures as it came, with their bands. */
  washed?: LastWash;
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
  reclaimed(): ReadonlySet<string>;
  /** What is on hand of each solvent, with the event. */
  stock(): Stock[];
  /** Waste containers, with the event. */
  containers(): Container[];
  dryRun: boolean;
  /** The event lies before others that are in the ledger already. */
  backDated: boolean;
  /** The time of the latest event, when the clock has not come to it yet. */
  aheadMs?: number;
  /** The time was typed in words, or without its day: how it was understood is told in full. */
  timeInWords: boolean;
}

interface Wants {
  before?: boolean;
  short?: boolean;
  /** How to name the event at this place, where one of several cannot have happened. */
  nameOf?: (place: number) => string;
}

/**
 * Builds an event and appends it; with `--dry-run` does all but the writing.
 *
 * @param build - the event without id, time, initials and note; called under the lock
 * @param wants - `before`: the status without the event as well, at the same clock; `short`: to build it, the last events and what
 *   is kept of those before will do; `nameOf`: for several events, whose refusal says which of them it is
 * @throws Fault when what was typed cannot be used, the ledger cannot be written, or the event cannot have happened
 */
export async function writeEvent(
  context: Context,
  options: Options,
  build: (bench: Bench) => Body | Promise<Body>,
  wants: Wants = {},
): Promise<Logged> {
  return writeEvents(context, options, async (bench) => [await build(bench)], wants);
}

/** As {@link writeEvent}, for several events; all of them are written at once, or none. */
export async function writeEvents(
  context: Context,
  options: Options,
  build: (bench: Bench) => Body[] | Promise<Body[]>,
  wants: Wants = {},
): Promise<Logged> {
  const { path } = context.ledger();
  let logged: (Tried & Pick<Logged, 'shop'>) | undefined;
  let events: LedgerEvent[] = [];
  const way = new Way(path, wants.short === true && options.at === undefined, (header) =>
    context.clockIn(openShop(header)),
  );
  const decideOn = async (file: LedgerFile): Promise<Decision> => {
    const bench = await benchOf(context, options, file, way);
    if (bench === WHOLE) return WHOLE;
    events = eventsOf(await build(bench), bench, options);
    const outcome = await tryOut(events, bench, wants);
    if (outcome === WHOLE || 'refused' in outcome) return outcome;
    logged = { ...outcome, shop: bench.shop };
    return { events };
  };
  const decide = async (file: LedgerFile): Promise<Decision> => {
    const decision = await decideOn(file);
    if (decision === WHOLE) way.giveUp();
    return decision;
  };
  const done = await append(path, decide, {
    catalogue,
    command: 'bathbook',
    dryRun: options.dryRun === true,
    read: (ledger) => way.read(ledger),
  });
  await context.tell(done.notes, path);
  if (done.problems.length > 0 || !logged) throw await notLogged(path, done.problems, { events, options });
  if (options.dryRun !== true) {
    logged.keep();
    isDone(`It is logged all the same; see: ${context.hint(`bathbook entries --last ${events.length}`)}`);
  }
  const written = events.map((event, place) => ({ event, line: done.lines[place]!.trimStart() }));
  const timeInWords = typeof options.at === 'string' && !isExactTime(options.at);
  return { ...logged, ...written[0]!, written, path, dryRun: options.dryRun === true, timeInWords };
}

async function benchOf(
  context: Context,
  options: Options,
  file: LedgerFile,
  way: Way,
): Promise<Bench | typeof WHOLE> {
  const shop = openShop(file.header!);
  const clockMs = await context.clockIn(shop);
  const at = options.at as string | undefined;
  const atMs = at === undefined ? clockMs : await readWhen(at, clockMs, 'past');
  if (atMs > clockMs + CLOCK_LEEWAY_MS) {
    throw usage(
      `Cannot log at ${readable(atMs)}, that is after now (${readable(clockMs)})`,
      at && /^\d{1,2}:\d{2}$/.test(at)
        ? `for the day before: --at "yesterday ${at}"`
        : `give a time that has been, like --at "${exampleFor(at ?? '', clockMs)}"; without --at it is logged for now`,
    );
  }
  const latestMs = Math.max(clockMs, atMs);
  const own = await settle(file.events, latestMs, file.header, catalogue);
  if (!way.settled(own, latestMs)) return WHOLE;
  return { file, way, settled: own, shop, clockMs: latestMs, atMs: Math.floor(atMs / 1000) * 1000 };
}

/** A time that works, as that was typed: now for a date in figures, else the day before at the same time of day. */
function exampleFor(typed: string, clockMs: number): string {
  if (/^\d{4}-/.test(typed)) return readable(clockMs);
  return `yesterday ${/(?<!\d)(?:[01]?\d|2[0-3]):[0-5]\d/.exec(typed)?.[0] ?? '17:30'}`;
}

function eventsOf(bodies: readonly Body[], bench: Bench, options: Options): LedgerEvent[] {
  const ids = new Set(bench.file.events.map(({ event }) => event.id));
  return bodies.map((body) => {
    const id = newId((one) => ids.has(one) || bench.way.mayHold(one), Math.random);
    ids.add(id);
    return eventOf(id, body, bench, options);
  });
}

function eventOf(id: string, body: Body, bench: Bench, options: Options): LedgerEvent {
  const by = (options.by as string | undefined) ?? process.env.BATHBOOK_BY;
  const at = body.at ?? rfc3339(bench.atMs);
  const isTimed = options.at !== undefined || body.at !== undefined;
  const typedLater = isTimed && bench.clockMs - Date.parse(at) > 60_000;
  return {
    id,
    at,
    ...body,
    ...(typedLater ? { logged: rfc3339(bench.clockMs) } : {}),
    ...(by && body.by === undefined ? { by } : {}),
    ...(options.note === undefined || body.note !== undefined ? {} : { note: options.note }),
  } as LedgerEvent;
}

/**
 * Nothing that was typed is lost: what was refused is shown as it was typed, to be put right. Where the words do not hold it all, or it was the
 * disk that would not have it, the lines that were not written are shown, which keep the time as well.
 */
async function notLogged(
  path: string,
  problems: readonly Problem[],
  { events, options }: { events: readonly LedgerEvent[]; options: Options },
): Promise<Fault> {
  const { exitCodeOf } = await import('../ledger/problems.ts');
  // A problem without a line is of what was typed, not of the file.
  const file = problems.some(({ line }) => line !== undefined) ? path : undefined;
  const exit = exitCodeOf(problems) || EXIT.data;
  const fault = new Fault(problems, exit, file);
  const isTyped = exit === EXIT.data && options.timed !== true && options.lines !== '-';
  if (events.length > 0 && !isTyped)
    fault.unlogged = events.map((event) => writeLine(event).trim()).join('\n');
  return fault;
}
