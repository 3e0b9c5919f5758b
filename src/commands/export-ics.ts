/** `export ics`: the days to come as a calendar. */
import { daysToCome } from '../outlook/dates.ts';
import { calendarEvents } from '../render/calendar-events.ts';
import { type CalendarEvent, calendar } from '../render/icalendar.ts';
import { aheadOf, lookAhead, stockAt } from './ahead.ts';
import { rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { daysOption, LEAD_DAYS } from './days.ts';
import type { Options } from './definition.ts';
import type { Exported } from './export-out.ts';
import { peroxideTests } from './stock-items.ts';
import { tellRefused } from './tell.ts';

/** As for `due`. */
const READING_DAYS = 28;

export async function exportIcs(options: Options, context: Context): Promise<Exported> {
  const opened = await context.open();
  const { shop, clockMs } = opened;
  const ahead = aheadOf(opened);
  await tellRefused(context, opened, ahead.status.replayed.refused);
  const looked = ahead.pace
    ? lookAhead(ahead, opened, { pace: ahead.pace, leadDays: daysOption(options, 'lead', LEAD_DAYS) })
    : { outlook: null, supply: null };
  const days = daysToCome(ahead.status, {
    ...looked,
    readingDays: daysOption(options, 'reading', READING_DAYS),
    tests: peroxideTests(stockAt(ahead.movements, opened), opened.settled.entries),
  });
  const events = calendarEvents(days, {
    shop: shop.name,
    ...looked,
    date: (ms) => rfc3339(ms).slice(0, 10),
  });
  return {
    clockMs,
    text: () => calendar(events, rfc3339(clockMs)),
    data: () => ({ format: 'ics', events: events.map(eventDocument) }),
    ...(events.length === 0 ? { note: 'No day is in sight: log washes for the pace, and readings' } : {}),
  };
}

function eventDocument({ uid, startDate, summary, description }: CalendarEvent): Record<string, string> {
  return { uid, date: startDate, summary, description };
}
