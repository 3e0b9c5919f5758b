/** Whether new events can have happened beside those of a ledger: corrections find what they name, liquid is there. */
import { refusalProblem } from '../bath/refusal.ts';
import { type Replay, replay } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { believe } from '../belief/believe.ts';
import type { Entry, Written } from '../ledger/event.ts';
import type { Header } from '../ledger/header.ts';
import type { Catalogue } from '../ledger/names.ts';
import type { Problem } from '../ledger/problem.ts';
import { type Settled, settle } from '../ledger/settle.ts';
import { type Fresh, namedBy, type Rejected } from './join.ts';

interface On {
  events: readonly Written[];
  header: Header;
  catalogue: Catalogue;
  shop: Shop;
  clockMs: number;
}

export interface Fitted {
  fresh: Fresh[];
  rejected: Rejected[];
  settled: Settled;
  /** The new events make one of the ledger's own impossible, which stops the whole import. */
  breaks?: Problem;
}

/** Each round can only reject more; after so many, corrections of corrections of nothing are all there is. */
const MOST_ROUNDS = 100;

/** Takes out what does not fit, until the rest does. */
export async function fitIn(joined: readonly Fresh[], on: On): Promise<Fitted> {
  let fresh = [...joined];
  const rejected: Rejected[] = [];
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const { settled, refused, breaks } = await tryOut(fresh, on);
    if (breaks) return { fresh: [], rejected, settled, breaks };
    if (refused.size === 0) return { fresh, rejected, settled };
    fresh = fresh.filter((one, nth) => {
      const told = refused.get(nth);
      if (told) rejected.push({ line: one.line, ...told });
      return !told;
    });
  }
  throw new Error('The events of the file cannot be put in order');
}

type Told = Omit<Rejected, 'line'>;

async function tryOut(
  fresh: readonly Fresh[],
  on: On,
): Promise<{ settled: Settled; refused: Map<number, Told>; breaks?: Problem }> {
  const { events, header, catalogue, clockMs } = on;
  // Lines below nothing are of the file that is imported.
  const added = fresh.map(
    ({ event, atMs }, nth): Written => ({ event, atMs, line: -1 - nth, place: events.length + nth }),
  );
  const settled = await settle([...events, ...added], clockMs, header, catalogue);
  const refused = new Map<number, Told>();
  const errors = settled.problems.filter(({ severity }) => severity === 'error');
  for (const problem of errors) {
    const { line = 0 } = problem;
    if (line >= 0) return { settled, refused, breaks: breaking(problem) };
    refused.set(-1 - line, told(problem));
  }
  if (refused.size > 0) return { settled, refused };
  const out = replayed(on, settled.entries).refused;
  for (const one of out)
    if (one.entry.line < 0) refused.set(-1 - one.entry.line, told(refusalProblem(one, on.shop)));
  if (refused.size > 0) {
    withCorrections(fresh, refused);
    return { settled, refused };
  }
  const broken = out.length === 0 ? undefined : await firstBroken(out, on);
  return { settled, refused, ...(broken ? { breaks: breaking(refusalProblem(broken, on.shop)) } : {}) };
}

/** Readings move the best estimate; without any the plain replay gives the same, sooner. */
function replayed({ shop, clockMs }: On, entries: readonly Entry[]): Replay {
  const learns = entries.some(({ event }) => event.what === 'reading' || event.what === 'weighed');
  return learns ? believe(shop, entries, clockMs).replayed : replay(shop, entries, clockMs);
}

/** Corrections and records of an event that is not taken are not taken either. */
function withCorrections(fresh: readonly Fresh[], refused: Map<number, Told>): void {
  const lost = new Set([...refused.keys()].map((nth) => fresh[nth]!.event.id));
  for (let before = -1; before !== lost.size; ) {
    before = lost.size;
    fresh.forEach(({ event }, nth) => {
      const named = namedBy(event);
      if (named === undefined || !lost.has(named) || refused.has(nth)) return;
      lost.add(event.id);
      refused.set(nth, {
        code: 'names-rejected',
        message: `Cannot take this ${event.what}, the event "${named}" it names was rejected`,
        help: 'put that line right first',
      });
    });
  }
}

/** The first event that cannot have happened now and could before. */
async function firstBroken(
  refused: Replay['refused'],
  on: On,
): Promise<Replay['refused'][number] | undefined> {
  const { events, header, catalogue, clockMs } = on;
  const before = replayed(on, (await settle(events, clockMs, header, catalogue)).entries);
  const old = new Set(before.refused.map(({ entry }) => entry.event.id));
  return refused.find(({ entry }) => !old.has(entry.event.id));
}

/** In words about a line of the file and no line of the ledger. */
function told({ code, message, help }: Problem): Told {
  const plain = message.replace(/^Event "[^"]+" \((\S+)\)/, 'This $1').replaceAll(/ of line -\d+/g, '');
  return { code, message: plain, ...(help === undefined ? {} : { help }) };
}

function breaking(problem: Problem): Problem {
  return {
    ...problem,
    message: `Importing would make what is logged impossible. ${problem.message}`,
    help: 'Take the lines of about that time out of the file, or correct the ledger first',
    severity: 'error',
  };
}
