/**
 * The program's own answer for one shop: in how many days the first limit is met.
 */
import { openShop } from '../../../src/bath/shop.ts';
import type { Entry } from '../../../src/ledger/event.ts';
import type { Header } from '../../../src/ledger/header.ts';
import { outlookOf } from '../../../src/outlook/outlook.ts';
import type { Days } from '../../../src/outlook/pace.ts';
import type { Quantity } from '../../../src/outlook/quantity.ts';
import { statusOf } from '../../../src/outlook/status.ts';

interface Stated {
  /** Null where no limit is met within a year. */
  days: Quantity | null;
  bath: string | null;
}

const DAY_MS = 86_400_000;
/** The simulated shops keep one offset all year. */
const OFFSET_MS = -4 * 3_600_000;
const FIRST_THURSDAY = 4;

const calendar: Days = {
  startOf: (ms) => Math.floor((ms + OFFSET_MS) / DAY_MS) * DAY_MS - OFFSET_MS,
  next: (startMs) => startMs + DAY_MS,
  weekday: (ms) => (Math.floor((ms + OFFSET_MS) / DAY_MS) + FIRST_THURSDAY) % 7,
};

/** @param events - as plain objects of the ledger, in order of time */
export function state(header: unknown, events: readonly unknown[], clock: string): Stated {
  const shop = openShop(header as Header);
  const entries = events.map((event, place) => {
    const stamped = event as Entry['event'];
    return { event: stamped, atMs: Date.parse(stamped.at), line: place + 1, place };
  });
  const status = statusOf(shop, entries, Date.parse(clock), { days: calendar });
  const { replayed, plan } = status;
  if (replayed.refused.length > 0) throw new Error(`Refused: ${JSON.stringify(replayed.refused[0])}`);
  const outlook = plan && outlookOf(status, { pace: plan.pace, days: calendar });
  if (!outlook) throw new Error('No outlook');
  const { days, limit } = outlook;
  return { days, bath: limit?.bath ?? null };
}
