/** Which inspections belong to which wash. */
import type { Entry, InspectEvent } from '../ledger/event.ts';

export interface Inspected {
  atMs: number;
  event: InspectEvent;
  /** Ids of the amends that shaped it. */
  amendedBy?: string[];
}

/**
 * Inspections by the id of the wash: the one they name, else the latest wash before them of each of their cases.
 *
 * @param entries - in order, corrections applied
 */
export function inspectionsOf(entries: readonly Entry[]): Map<string, Inspected[]> {
  const found = new Map<string, Inspected[]>();
  const washOf = new Map<string, string>();
  for (const { event, atMs, amendedBy } of entries) {
    if (event.what === 'wash') for (const one of event.cases ?? []) washOf.set(one, event.id);
    if (event.what !== 'inspect') continue;
    const one = { atMs, event, ...(amendedBy ? { amendedBy } : {}) };
    const named = event.wash === undefined ? (event.cases ?? []).map((id) => washOf.get(id)) : [event.wash];
    for (const id of new Set(named)) if (id !== undefined) found.set(id, [...(found.get(id) ?? []), one]);
  }
  return found;
}
