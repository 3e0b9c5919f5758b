import { readableDay } from './clock.ts';

/** A day without its name, as tables and forms want it: 2026-11-20. */
export function dateOnly(ms: number): string {
  return readableDay(ms).slice(-10);
}
