import type { AmendEvent, Correction, Entry, LedgerEvent, Written } from './event.ts';
import type { Finding } from './finding.ts';
import { didYouMean } from './near.ts';
import type { Problem } from './problem.ts';

interface Applied {
  /** Events that amends changed, by id, as they now are. */
  changed: Map<string, Entry>;
  voided: Map<string, string>;
  problems: Problem[];
}

/** Looking for what was meant goes through all ids, so it is done for those problems only that are told. */
const MOST_GUESSES = 20;

/** The checks an amended event must pass again. */
export interface Checks {
  check(value: unknown): { event: LedgerEvent; atMs: number } | null;
  explain(value: unknown): Finding[];
}

/**
 * Works out what the corrections leave of each event.
 *
 * Each correction names one event, which may be a correction too, so the corrections form chains that end in an
 * ordinary event. They are worked from the free ends: a correction that nothing corrects is what it says; once all
 * corrections of an event are settled, so is the event. What is left over names itself in a circle.
 */
export function applyCorrections(
  events: readonly Written[],
  corrections: readonly Written<Correction>[],
  clockMs: number,
  checks: Checks,
): Applied {
  const applied: Applied = { changed: new Map(), voided: new Map(), problems: [] };
  const byId = new Map(events.map((written) => [written.event.id, written]));
  const sound = corrections.filter((correction) => {
    const isKnown = byId.has(correction.event.of);
    if (!isKnown) {
      applied.problems.push(unknownId(correction, applied.problems.length < MOST_GUESSES ? byId.keys() : []));
    }
    return isKnown;
  });
  const waiting = new Map<string, Written<Correction>[]>();
  for (const correction of sound) {
    const others = waiting.get(correction.event.of);
    others === undefined ? waiting.set(correction.event.of, [correction]) : others.push(correction);
  }
  const open = new Map([...waiting].map(([id, list]) => [id, list.length]));
  const done = new Set<string>();
  const free: Written[] = sound.filter((correction) => !open.has(correction.event.id));
  for (let written = free.pop(); written !== undefined; written = free.pop()) {
    const { id } = written.event;
    settleOne(written, waiting.get(id) ?? [], applied, clockMs, checks);
    done.add(id);
    const target = isCorrection(written) ? byId.get(written.event.of) : undefined;
    if (target !== undefined) {
      const left = open.get(target.event.id)! - 1;
      open.set(target.event.id, left);
      if (left === 0) {
        free.push(target);
      }
    }
  }
  const circle = sound.filter((correction) => !done.has(correction.event.id));
  applied.problems.push(...circle.map((correction) => inCircle(correction)));
  return applied;
}

/** Applies to one event its corrections, all of them settled, in the order of their own times. */
function settleOne(
  written: Written,
  corrections: Written<Correction>[],
  applied: Applied,
  clockMs: number,
  checks: Checks,
): void {
  const counting = corrections
    .filter((one) => !applied.voided.has(one.event.id))
    .map((one) => (applied.changed.get(one.event.id) ?? one) as Written<Correction>)
    .filter((one) => one.atMs <= clockMs)
    .sort((a, b) => a.atMs - b.atMs);
  const voiding = counting.find((one) => one.event.what === 'void');
  if (voiding !== undefined) {
    applied.voided.set(written.event.id, voiding.event.id);
    return;
  }
  let now = written as Entry;
  for (const amend of counting as Written<AmendEvent>[]) {
    now = amended(now, amend, applied, checks);
  }
  if (now !== written) {
    applied.changed.set(written.event.id, now);
  }
}

function amended(entry: Entry, amend: Written<AmendEvent>, applied: Applied, checks: Checks): Entry {
  const value = { ...entry.event, ...amend.event.set };
  const sound = checks.check(value);
  if (sound === null) {
    applied.problems.push(breaksEvent(entry, amend, checks.explain(value)[0]));
    return entry;
  }
  return { ...entry, ...(sound as Entry), amendedBy: [...(entry.amendedBy ?? []), amend.event.id] };
}

function isCorrection(written: Written): written is Written<Correction> {
  return written.event.what === 'void' || written.event.what === 'amend';
}

function unknownId({ event, line }: Written<Correction>, ids: Iterable<string>): Problem {
  return {
    code: 'unknown-id',
    message: `Cannot ${event.what} the event "${event.of}", the ledger has no event with this id`,
    help: didYouMean(event.of, ids) ?? 'Look the id up with: bathbook entries',
    line,
    severity: 'error',
  };
}

function inCircle({ event, line }: Written<Correction>): Problem {
  return {
    code: 'correction-circle',
    message: `Cannot ${event.what} the event "${event.of}", the corrections name each other in a circle`,
    help: 'Delete the line that was meant for another event',
    line,
    severity: 'error',
  };
}

function breaksEvent(
  { event, line }: Entry,
  amend: Written<AmendEvent>,
  finding: Finding | undefined,
): Problem {
  const why = finding === undefined ? 'it would not be sound' : finding.message.replace(/^C/, 'c');
  return {
    code: 'amend-breaks-event',
    message: `Cannot amend the ${event.what} "${event.id}" of line ${line}: ${why}`,
    help: finding?.help ?? 'Correct the values under "set"',
    line: amend.line,
    severity: 'error',
  };
}
