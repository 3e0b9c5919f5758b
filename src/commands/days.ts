/** The shop's calendar, once its zone is set. */
import type { Days } from '../outlook/pace.ts';

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
