/** The shop's calendar, once its zone is set, and spans of days. */
import type { Days } from '../outlook/pace.ts';
import { parseQuantity } from '../substance/units.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';

/** Flammables come slowly. Common practice, no source. */
export const LEAD_DAYS = 7;

const MINUTES_PER_DAY = 1440;

/** Midnights and weekdays by local time. */
export const localDays: Days = {
  startOf(ms) {
    const at = new Date(ms);
    return new Date(at.getFullYear(), at.getMonth(), at.getDate()).getTime();
  },
  next(startMs) {
    const at = new Date(startMs);
    return new Date(at.getFullYear(), at.getMonth(), at.getDate() + 1).getTime();
  },
  weekday: (ms) => new Date(ms).getDay(),
};

/** Days of an option, at most a year and a day; a bare number is days here. @throws Fault, usage */
export function daysOption(options: Options, name: string, preset: number): number {
  const text = options[name];
  if (typeof text !== 'string') return preset;
  const bare = /^\d+(?:\.\d+)?$/.test(text.trim());
  const parsed = bare ? { value: Number(text) * MINUTES_PER_DAY } : parseQuantity(text, 'duration');
  const days = 'value' in parsed ? parsed.value / MINUTES_PER_DAY : Number.NaN;
  if (days >= 0 && days <= 366) return days;
  throw usage(`Cannot use --${name} "${text}"`, `give 0 to 366 days, like --${name} ${preset}d`);
}
