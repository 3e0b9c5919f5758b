/**
 * What was put right in a period: entries taken back or corrected, and those logged after the day.
 */
import type { Correction, Entry, LedgerEvent, Written } from '../ledger/event.ts';
import { isWithin, type Period } from './report-period.ts';

export interface Corrected {
  correction: Written<Correction>;
  /** The event it names, as it was typed. */
  target: Written;
  /** False once it was voided itself. */
  counts: boolean;
}

/** An entry that was typed after it happened. */
export interface Late {
  entry: Entry;
  loggedMs: number;
  /** It happened in the period, and so is in its sums. */
  counted: boolean;
}

/** Voids and amends of a period, by the time at which they were logged. */
export function correctionsOf(
  events: readonly Written[],
  voided: ReadonlyMap<string, string>,
  period: Period,
): Corrected[] {
  const found = events.filter(isCorrection).filter((one) => isWithin(period, knownMs(one)));
  if (found.length === 0) return [];
  const byId = new Map(events.map((written) => [written.event.id, written]));
  return found.flatMap((correction) => {
    const target = byId.get(correction.event.of);
    return target ? [{ correction, target, counts: !voided.has(correction.event.id) }] : [];
  });
}

/** Entries logged in a period and after they happened; those of an earlier period are in no sum of this one. */
export function lateOnes(entries: readonly Entry[], period: Period): Late[] {
  return entries
    .filter(({ event }) => event.logged !== undefined)
    .map((entry) => ({
      entry,
      loggedMs: Date.parse(entry.event.logged!),
      counted: isWithin(period, entry.atMs),
    }))
    .filter(({ loggedMs }) => isWithin(period, loggedMs));
}

function isCorrection(written: Written): written is Written<Correction> {
  return written.event.what === 'void' || written.event.what === 'amend';
}

/** When the ledger came to know of it. */
function knownMs({ event, atMs }: Written<LedgerEvent>): number {
  return event.logged === undefined ? atMs : Math.max(atMs, Date.parse(event.logged));
}
