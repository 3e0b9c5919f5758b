import type { LedgerEvent } from './event.ts';
import { checkNames, type Known } from './names.ts';
import { quickEvent } from './quick.ts';
import { checkRules } from './rules.ts';
import { parseTime } from './time.ts';

/** An event that passed every check. */
export interface Sound {
  event: LedgerEvent;
  atMs: number;
}

/** The event, when the everyday checks pass it; null says nothing yet, `checkEvent` decides. */
export function quickCheck(value: unknown, known: Known | null): Sound | null {
  return quickEvent(value) ? soundEvent(value as LedgerEvent, known) : null;
}

/** What is left to check once every key is in order: the time, keys that go together, names. */
export function soundEvent(event: LedgerEvent, known: Known | null): Sound | null {
  const atMs = parseTime(event.at);
  const sound =
    !Number.isNaN(atMs) &&
    checkRules(event, known).length === 0 &&
    (known === null || checkNames(event, known).length === 0);
  return sound ? { event, atMs } : null;
}
