/** A replay with events that are not in the ledger yet: whether they can have happened, and what they make of it. */
import { refusalProblem } from '../bath/refusal.ts';
import type { Step } from '../bath/replay.ts';
import { copyBath } from '../bath/state.ts';
import type { Belief } from '../belief/belief.ts';
import { WHOLE } from '../ledger/append.ts';
import type { LedgerEvent, Written } from '../ledger/event.ts';
import { withExcerpt } from '../ledger/excerpt.ts';
import type { Problem } from '../ledger/problem.ts';
import type { LedgerFile } from '../ledger/read.ts';
import { settle } from '../ledger/settle.ts';
import { lastWashOf } from '../outlook/factors-band.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { stockOf } from '../records/stock.ts';
import { containersOf } from '../records/waste.ts';
import { count } from '../render/format.ts';
import { catalogue } from '../substance/catalogue.ts';
import { aheadOf } from './ahead.ts';
import { readableWithDay } from './clock.ts';
import { reclaimedSolvents } from './reclaim-clean.ts';
import type { Bench, KeptStep, Logged } from './write.ts';

/** A clock may run a little fast, but an event cannot be planned. */
export const CLOCK_LEEWAY_MS = 5 * 60_000;

export type Tried = Pick<
  Logged,
  'status' | 'before' | 'step' | 'reclaimed' | 'stock' | 'containers' | 'backDated' | 'aheadMs'
> & {
  /** Keeps where the replay came to, for the next; to be called when the events are written. */
  keep(): void;
};

/**
 * Replays with the events; refused when one cannot be, or when they make another impossible. Of a ledger that was read the short way
 * nothing is told that only the whole of it can tell.
 */
export async function tryOut(
  events: readonly LedgerEvent[],
  bench: Bench,
  { before: wantsBefore = false, nameOf }: { before?: boolean; nameOf?: (place: number) => string },
): Promise<Tried | { refused: Problem[] } | typeof WHOLE> {
  const { file, shop, clockMs, way } = bench;
  const place = file.events.length;
  const added = events.map(
    (event, nth): Written => ({ event, atMs: Date.parse(event.at), line: 0, place: place + nth }),
  );
  const mine = new Set(events.map(({ id }) => id));
  const all = [...file.events, ...added];
  const own = await settle(all, clockMs, file.header, catalogue);
  const errors = own.problems.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) return way.isShort ? WHOLE : { refused: errors.map((one) => inPlace(file, one)) };
  const settled = way.settled(own, clockMs);
  if (!settled) return WHOLE;
  let step: KeptStep | undefined;
  const watch = (made: Step, belief: Belief) => {
    if (!mine.has(made.entry.event.id)) return;
    const before = step?.before ?? made.before.map(copyBath);
    step = {
      ...made,
      before,
      after: made.baths.map(copyBath),
      ...(made.entry.atMs < clockMs ? seenThen(made, belief) : {}),
    };
  };
  const { stages, keep } = way.stages(file, all, own, clockMs);
  const { status, movements } = aheadOf({ shop, settled, clockMs, stages }, watch);
  const latestMs = file.events.reduce((latest, { atMs }) => Math.max(latest, atMs), 0);
  const refused = status.replayed.refused;
  if (way.isShort && refused.length > 0) return WHOLE;
  const impossible = refused.filter(({ entry }) => mine.has(entry.event.id));
  if (impossible.length > 0) {
    // Several readings of one empty bath are refused for one reason, told once.
    const told = impossible.map((one) => {
      const isNow = one.entry.atMs >= Math.floor(clockMs / 1000) * 1000;
      const problem = dated(withoutPlace(refusalProblem(one, shop, isNow)), one.entry.atMs);
      const name = nameOf?.(one.entry.place - place);
      return name === undefined ? problem : { ...problem, message: `${name}${problem.message}` };
    });
    return { refused: told.filter(({ message }, nth) => message !== told[nth - 1]?.message) };
  }
  const before = wantsBefore || refused.length > 0 ? statusBefore(bench) : undefined;
  const broken = before ? newlyRefused(status, before) : [];
  if (broken.length > 0) return { refused: [breaksOthers(events[0]!, broken, bench)] };
  return {
    status,
    keep,
    ...(before && wantsBefore ? { before } : {}),
    ...(step ? { step } : {}),
    reclaimed: () => reclaimedSolvents(way.recorded(own)),
    stock: () => stockOf(shop, way.recorded(own), way.moved(movements), clockMs),
    containers: () => containersOf(way.recorded(own), way.moved(movements), clockMs),
    ...(latestMs > clockMs + CLOCK_LEEWAY_MS ? { aheadMs: latestMs } : {}),
    backDated: isBefore(
      added,
      settled.entries.filter(({ event }) => !mine.has(event.id)),
    ),
  };
}

/** The figures of a wash as it came, with their bands: those of the status are of the last wash. */
function seenThen({ entry, load, wash }: Step, { ensemble }: Belief): Pick<KeptStep, 'washed'> {
  if (!wash || !load) return {};
  return { washed: lastWashOf({ recent: [{ entry, load, outcome: wash }] }, ensemble.at(entry.atMs))! };
}

/** Whether the first of these lies before any of those. */
function isBefore(added: readonly Written[], others: readonly Written[]): boolean {
  const firstMs = added.reduce((first, { atMs }) => Math.min(first, atMs), Number.POSITIVE_INFINITY);
  return others.some(({ atMs }) => atMs > firstMs);
}

function statusBefore({ settled, shop, clockMs, way }: Bench): Status {
  const { reached, done = 0 } = way.begun;
  const { entries } = way.settled(settled, clockMs)!;
  return statusOf(shop, entries, clockMs, reached ? { from: reached.believed, done } : {});
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

/** A weekday or a zone that was taken otherwise than it was meant shows in the date. */
function dated(problem: Problem, atMs: number): Problem {
  return {
    ...problem,
    message: problem.message.replace(/at that time$/, `at that time, ${readableWithDay(atMs)}`),
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
