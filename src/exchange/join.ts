/** Which events of an imported file are new to a ledger, which it has, and which cannot be taken. */
import type { LedgerEvent, Written } from '../ledger/event.ts';
import type { Known } from '../ledger/names.ts';
import { quickCheck, type Sound } from '../ledger/sound.ts';
import { contentId, contentOf, saySame } from './content.ts';
import type { RowEvent } from './row-event.ts';

export interface Rejected {
  line: number;
  code: string;
  message: string;
  help?: string;
}

/** An event that is new, with the line of the imported file it is from. */
export interface Fresh {
  line: number;
  event: LedgerEvent;
  atMs: number;
}

export interface Joined {
  fresh: Fresh[];
  /** Lines of events that the ledger has. */
  present: number[];
  rejected: Rejected[];
  /** New events without an id of the same kind and moment as one that says something else, which may be the same. */
  alike: { line: number; id: string }[];
}

interface Ledger {
  events: readonly Written[];
  known: Known;
  clockMs: number;
  /** An instant as a ledger writes it. */
  time(ms: number): string;
}

/** A clock may run a little fast, but an event cannot be planned. */
const CLOCK_LEEWAY_MS = 5 * 60_000;
/** What was typed within a minute was typed as it happened. */
const BACK_DATED_MS = 60_000;

/**
 * Holds the rows against the ledger. An event with an id is the ledger's own when the ledger has that id; it is refused when
 * the two do not say the same. An event without one is known by what it says, as often as the ledger says it; it gets an id
 * made from that, and `logged`, since it was typed elsewhere.
 */
export async function join(rows: readonly RowEvent[], ledger: Ledger): Promise<Joined> {
  const joined: Joined = { fresh: [], present: [], rejected: [], alike: [] };
  const shelf = new Shelf(ledger.events);
  const lost = new Map<string, number>();
  for (const { line, event } of rows) {
    const hasId = event.id !== undefined;
    const value = hasId ? event : { ...event, id: 'x' };
    const sound = await check(value, ledger.known);
    const told = 'atMs' in sound ? later(sound, ledger) : sound;
    if (told || !('atMs' in sound)) joined.rejected.push({ line, ...(told as Omit<Rejected, 'line'>) });
    else if (hasId) place(sound, line, { joined, shelf });
    else placeByContent(sound, line, { joined, shelf, ledger });
    if (hasId && joined.rejected.at(-1)?.line === line) lost.set(String(event.id), line);
  }
  return withoutLost(joined, lost, shelf);
}

async function check(value: unknown, known: Known): Promise<Sound | Omit<Rejected, 'line'>> {
  const quick = quickCheck(value, known);
  if (quick) return quick;
  const { checkEvent, explainEvent } = await import('../ledger/check-event.ts');
  const sound = checkEvent(value, known);
  if (sound) return sound;
  const [finding] = explainEvent(value, known, () => undefined);
  const { code, message, help } = finding!;
  return { code, message, ...(help === undefined ? {} : { help }) };
}

function later({ atMs }: Sound, { clockMs, time }: Ledger): Omit<Rejected, 'line'> | undefined {
  if (atMs <= clockMs + CLOCK_LEEWAY_MS) return undefined;
  const help = 'import it once that time has come';
  return { code: 'after-now', message: `Cannot log at ${time(atMs)}, that is after now`, help };
}

function place({ event, atMs }: Sound, line: number, to: { joined: Joined; shelf: Shelf }): void {
  const { joined, shelf } = to;
  const held = shelf.byId(event.id);
  if (held === undefined) {
    shelf.add(event, atMs);
    joined.fresh.push({ line, event, atMs });
  } else if (saySame(held, { event, atMs })) joined.present.push(line);
  else joined.rejected.push({ line, ...otherContent(event.id) });
}

function placeByContent(
  { event, atMs }: Sound,
  line: number,
  to: { joined: Joined; shelf: Shelf; ledger: Ledger },
): void {
  const { joined, shelf, ledger } = to;
  const content = contentOf(event, atMs);
  const nth = shelf.nth(content);
  if (nth < shelf.held(content)) {
    joined.present.push(line);
    return;
  }
  const alike = shelf.alike(event, atMs);
  if (alike !== undefined) joined.alike.push({ line, id: alike });
  const id = contentId(content, nth, (one) => shelf.byId(one) !== undefined);
  const backDated = event.logged === undefined && ledger.clockMs - atMs > BACK_DATED_MS;
  const fresh = { ...event, id, ...(backDated ? { logged: ledger.time(ledger.clockMs) } : {}) };
  shelf.add(fresh, atMs);
  joined.fresh.push({ line, event: fresh, atMs });
}

/** What the ledger holds, and what the file adds to it. */
class Shelf {
  private readonly ids: Map<string, { event: LedgerEvent; atMs: number }>;
  private readonly events: readonly Written[];
  private counts: Map<string, number> | undefined;
  private moments: Map<string, string> | undefined;
  private readonly seen = new Map<string, number>();

  constructor(events: readonly Written[]) {
    this.events = events;
    this.ids = new Map(events.map((written) => [written.event.id, written]));
  }

  byId(id: string): { event: LedgerEvent; atMs: number } | undefined {
    return this.ids.get(id);
  }

  add(event: LedgerEvent, atMs: number): void {
    this.ids.set(event.id, { event, atMs });
  }

  /** How often the ledger says this, the file left out. */
  held(content: string): number {
    this.counts ??= countContents(this.events);
    return this.counts.get(content) ?? 0;
  }

  /** The id of an event of the ledger of the same kind and moment. */
  alike({ what }: LedgerEvent, atMs: number): string | undefined {
    this.moments ??= new Map(this.events.map((one) => [`${one.event.what} ${one.atMs}`, one.event.id]));
    return this.moments.get(`${what} ${atMs}`);
  }

  /** How often rows without an id have said it so far; counts this one. */
  nth(content: string): number {
    const nth = this.seen.get(content) ?? 0;
    this.seen.set(content, nth + 1);
    return nth;
  }
}

function countContents(events: readonly Written[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { event, atMs } of events) {
    const content = contentOf(event, atMs);
    counts.set(content, (counts.get(content) ?? 0) + 1);
  }
  return counts;
}

/** What names an event that was rejected, while the ledger has another under that id, is rejected as well. */
function withoutLost(joined: Joined, lost: ReadonlyMap<string, number>, shelf: Shelf): Joined {
  if (lost.size === 0) return joined;
  const fresh = joined.fresh.filter((one) => {
    const named = namedBy(one.event);
    const line = named === undefined || named === one.event.id ? undefined : lost.get(named);
    if (line === undefined || shelf.byId(named!) === undefined) return true;
    joined.rejected.push({ line: one.line, ...namesLost(one.event, line) });
    return false;
  });
  return { ...joined, fresh };
}

/** The id of the event that this one corrects or belongs to. */
export function namedBy(event: LedgerEvent): string | undefined {
  if ('of' in event) return event.of;
  return 'wash' in event ? event.wash : undefined;
}

function otherContent(id: string): Omit<Rejected, 'line'> {
  return {
    code: 'other-event',
    message: `Cannot take the event "${id}", the ledger has an event with this id that says something else`,
    help: `look at it with: bathbook entries; to correct it: bathbook amend ${id} KEY=VALUE --why REASON`,
  };
}

function namesLost(event: LedgerEvent, line: number): Omit<Rejected, 'line'> {
  return {
    code: 'names-rejected',
    message: `Cannot take this ${event.what}, the event it names is that of line ${line}, which was rejected`,
    help: `put line ${line} right first`,
  };
}
