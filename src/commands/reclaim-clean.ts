/** Reclaimed solvent is for the dirty bath: it brings residue, and water that distilling does not take out. */
import type { Entry } from '../ledger/event.ts';
import type { Movements } from '../records/movements.ts';
import { printable } from '../render/printable.ts';
import { readable } from './clock.ts';

/** Solvents that something was reclaimed as. */
export function reclaimedSolvents(entries: readonly Entry[]): Set<string> {
  const found = new Set<string>();
  for (const { event } of entries) if (event.what === 'reclaim') found.add(event.solvent);
  return found;
}

/** A sentence for each solvent that was poured into the clean bath once some of it was reclaimed, with the last time. */
export function reclaimedIntoClean(entries: readonly Entry[], pours: Movements['pours']): string[] {
  const firstMs = new Map<string, number>();
  for (const { event, atMs } of entries)
    if (event.what === 'reclaim' && !firstMs.has(event.solvent)) firstMs.set(event.solvent, atMs);
  if (firstMs.size === 0) return [];
  const intoClean = new Set(entries.filter(fillsClean).map(({ event }) => event.id));
  const last = new Map<string, Movements['pours'][number]>();
  for (const pour of pours)
    if (intoClean.has(pour.eventId) && pour.atMs >= (firstMs.get(pour.solvent) ?? Number.POSITIVE_INFINITY))
      last.set(pour.solvent, pour);
  return [...last.values()].map(
    ({ solvent, eventId, atMs }) =>
      `${printable(solvent)} is reclaimed and was poured into the clean bath on ${readable(atMs)} (${eventId}): it brings residue to the last rinse and is for the dirty bath only; refill the clean bath with fresh solvent`,
  );
}

/** A rotation fills the clean bath as well. */
function fillsClean({ event }: Entry): boolean {
  switch (event.what) {
    case 'rotate':
      return true;
    case 'fill':
    case 'refill':
    case 'top-up':
      return event.bath === 'clean';
    default:
      return false;
  }
}
