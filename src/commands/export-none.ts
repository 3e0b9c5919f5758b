/** What to say of a list in which nothing is. */
import type { LedgerEvent } from '../ledger/event.ts';
import { didYouMean } from '../ledger/near.ts';
import type { Opened } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';

/** The first filter that no event has, with the name that was most likely meant. */
export function noteNone(count: number, options: Options, { file }: Opened): { note?: string } {
  if (count > 0) return {};
  const isWashes = options.what === 'washes';
  const events = file.events.map(({ event }) => event).filter(({ what }) => !isWashes || what === 'wash');
  return { note: noneText(events, options, isWashes ? 'wash' : 'event') };
}

/** Refuses a filter that no wash has, which was mistyped: a record of nothing would look like one. @throws Fault, usage */
export function refuseUnknown(options: Options, { file, settled }: Pick<Opened, 'file' | 'settled'>): void {
  // As typed, and as corrected.
  const washes = [...file.events, ...settled.entries]
    .map(({ event }) => event)
    .filter(({ what }) => what === 'wash');
  const unknown = firstUnknown(washes, options);
  if (!unknown) return;
  const { words, typed, known } = unknown;
  throw usage(
    `Cannot make a record, no wash ${words} "${typed}"`,
    didYouMean(typed, known) ?? 'the washes there are: bathbook entries --what wash',
  );
}

/** @param noun - what the list is of */
export function noneText(events: readonly LedgerEvent[], options: Options, noun: string): string {
  const unknown = firstUnknown(events, options);
  if (!unknown) return `No ${noun} matches`;
  const { words, typed, known } = unknown;
  const note = `No ${noun} ${words} "${typed}"`;
  const help = didYouMean(typed, known);
  return help ? `${note}. ${help}` : note;
}

function firstUnknown(
  events: readonly LedgerEvent[],
  options: Options,
): { words: string; typed: string; known: Set<string> } | undefined {
  for (const [option, { words, values }] of Object.entries(FILTERS)) {
    const typed = options[option];
    if (typeof typed !== 'string') continue;
    const known = new Set(events.flatMap(values));
    if (!known.has(typed)) return { words, typed, known };
  }
  return undefined;
}

const FILTERS: Record<string, { words: string; values(event: LedgerEvent): string[] }> = {
  case: { words: 'has the case', values: (event) => ('cases' in event && event.cases) || [] },
  lot: { words: 'has the lot', values: (event) => ('lot' in event && event.lot ? [event.lot] : []) },
  by: { words: 'is by', values: ({ by }) => (by ? [by] : []) },
};
