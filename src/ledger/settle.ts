import { applyCorrections } from './corrections.ts';
import type { Correction, Entry, Written } from './event.ts';
import type { Header } from './header.ts';
import { type Catalogue, type Known, knownNames } from './names.ts';
import type { Problem } from './problem.ts';
import { checkReferences } from './references.ts';
import { quickCheck } from './sound.ts';

/** What counts at a given clock. */
export interface Settled {
  /** The events that count, corrections applied, in order of time, then of place in the file. */
  entries: Entry[];
  /** The id of each event that no longer counts, with the id of the void that says so. */
  voided: Map<string, string>;
  /** How many events lie after the clock. */
  later: number;
  problems: Problem[];
}

/**
 * Settles which events count at the clock. Corrections act wherever they stand in the file, once their own time has
 * come. With the head at hand an amended event is held against its names as well.
 */
export async function settle(
  events: readonly Written[],
  clockMs: number,
  header?: Header | null,
  catalogue?: Catalogue,
): Promise<Settled> {
  const settled: Settled = { entries: [], voided: new Map(), later: 0, problems: [] };
  const corrections = events.filter(isCorrection);
  if (corrections.length === 0) {
    for (const written of events) {
      take(settled, written as Entry, clockMs);
    }
  } else {
    const known: Known | null = header ? knownNames(header, catalogue) : null;
    const applied = await correct(events, corrections, clockMs, known);
    settled.voided = applied.voided;
    settled.problems.push(...applied.problems);
    for (const written of events) {
      if (!applied.voided.has(written.event.id)) {
        take(settled, applied.changed.get(written.event.id) ?? (written as Entry), clockMs);
      }
    }
  }
  settled.problems.push(...checkReferences(events));
  order(settled.entries);
  return settled;
}

/** Corrections by the everyday checks; when one of them is in doubt, again by the schemas, which also explain. */
async function correct(
  events: readonly Written[],
  corrections: readonly Written<Correction>[],
  clockMs: number,
  known: Known | null,
): Promise<ReturnType<typeof applyCorrections>> {
  let inDoubt = false;
  const check = (value: unknown) => {
    const sound = quickCheck(value, known);
    inDoubt ||= sound === null;
    return sound;
  };
  const applied = applyCorrections(events, corrections, clockMs, { check, explain: () => [] });
  if (!inDoubt) {
    return applied;
  }
  const { checkEvent, explainEvent } = await import('./check-event.ts');
  return applyCorrections(events, corrections, clockMs, {
    check: (value) => checkEvent(value, known),
    explain: (value) => explainEvent(value, known, () => undefined),
  });
}

function isCorrection(written: Written): written is Written<Correction> {
  return written.event.what === 'void' || written.event.what === 'amend';
}

function take(settled: Settled, entry: Entry, clockMs: number): void {
  if (entry.atMs > clockMs) {
    settled.later++;
  } else if (!isCorrection(entry)) {
    settled.entries.push(entry);
  }
}

/** By time, and by place in the file where it is the same. Most ledgers are in order already, and looking costs less than sorting. */
function order(entries: Entry[]): void {
  for (let i = 1; i < entries.length; i++) {
    if (entries[i]!.atMs < entries[i - 1]!.atMs) {
      entries.sort((a, b) => a.atMs - b.atMs);
      return;
    }
  }
}
