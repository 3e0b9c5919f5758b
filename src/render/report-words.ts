/** Small words that several sections of the report use. */
import type { LedgerEvent } from '../ledger/event.ts';
import { count } from './format.ts';

/** Nobody reads more lines of one kind; `entries` lists them all. */
const MOST_LINES = 12;

/** The last of a long list, and how many came before. */
export function listed(items: readonly string[]): string[] {
  if (items.length <= MOST_LINES) return [...items];
  const left = items.length - MOST_LINES;
  return [`${count(left, 'earlier one is', 'earlier ones are')} left out here`, ...items.slice(-MOST_LINES)];
}

/** Parts by kind: 31 model, 9 die. */
export function partsText(parts: Iterable<readonly [string, number]>): string {
  return [...parts].map(([kind, number]) => `${number} ${kind}`).join(', ');
}

/** Initials, where the entry has any. */
export function byWords({ by }: Pick<LedgerEvent, 'by'>): string {
  return by ? ` (${by})` : '';
}

/** The waste container, where one is named. */
export function inside(event: object): string {
  return 'into' in event && typeof event.into === 'string'
    ? `, into ${event.into}`
    : ', into no named container';
}

/** A note as it was typed. */
export function noteWords({ note }: Pick<LedgerEvent, 'note'>): string {
  return note ? `; "${note}"` : '';
}
