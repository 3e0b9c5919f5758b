/** What became of a wash in the ledger after it was logged: corrected, or taken back. */
import type { AmendEvent, Entry, LedgerEvent, VoidEvent, WashEvent, Written } from '../ledger/event.ts';

/** One correction and what it changed, in the keys of the ledger. */
export interface Amended {
  amend: AmendEvent;
  atMs: number;
  changes: { key: string; from: unknown; to: unknown }[];
}

/** A wash that no longer counts. */
export interface TakenBack {
  wash: Written<WashEvent>;
  by: Written<VoidEvent>;
}

/** The events of the file by their ids. */
export function eventsById(events: readonly Written[]): Map<string, Written> {
  return new Map(events.map((written) => [written.event.id, written]));
}

/**
 * The corrections of an entry in the order in which they were applied. Where a correction was itself corrected, the value
 * that counts in the end is told.
 */
export function amendsOf({ event, amendedBy = [] }: Entry, byId: ReadonlyMap<string, Written>): Amended[] {
  const amends = amendedBy.flatMap((id) => {
    const written = byId.get(id);
    return written?.event.what === 'amend' ? [{ amend: written.event, atMs: written.atMs }] : [];
  });
  const lastOf = new Map(amends.flatMap(({ amend }) => Object.keys(amend.set).map((key) => [key, amend.id])));
  const values = { ...byId.get(event.id)?.event } as Record<string, unknown>;
  const final = event as unknown as Record<string, unknown>;
  return amends.map(({ amend, atMs }) => ({
    amend,
    atMs,
    changes: Object.keys(amend.set).map((key) => {
      const from = values[key];
      values[key] = lastOf.get(key) === amend.id ? final[key] : amend.set[key];
      return { key, from, to: values[key] };
    }),
  }));
}

/** Washes that were voided, as they were typed. */
export function takenBackOf(
  byId: ReadonlyMap<string, Written>,
  voided: ReadonlyMap<string, string>,
  wanted: (event: LedgerEvent, atMs: number) => boolean,
): TakenBack[] {
  const found = [...voided].flatMap(([id, voidId]) => {
    const [wash, by] = [byId.get(id), byId.get(voidId)];
    const isOne = wash?.event.what === 'wash' && by?.event.what === 'void' && wanted(wash.event, wash.atMs);
    return isOne ? [{ wash: wash as Written<WashEvent>, by: by as Written<VoidEvent> }] : [];
  });
  return found.sort((one, other) => one.wash.atMs - other.wash.atMs);
}
