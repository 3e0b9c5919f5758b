import { daysToCome } from '../outlook/dates.ts';
import { calendarEvents } from '../render/calendar-events.ts';
import { type CalendarEvent, calendar } from '../render/icalendar.ts';
import { aheadOf, lookAhead } from './ahead.ts';
import { rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { daysOption, LEAD_DAYS } from './days.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';
import { tellRefused } from './tell.ts';
import { writeWhole } from './write-whole.ts';

const FORMATS = ['ics'] as const;

/** `export`: the ledger for other programs; now the days to come, as a calendar. */
export async function run([format = '']: string[], options: Options, context: Context): Promise<number> {
  if (!FORMATS.some((one) => one === format.toLowerCase()))
    throw usage(`Cannot export "${format}"`, `the formats are ${FORMATS.join(', ')}`);
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
  });
  const events = calendarEvents(days, {
    shop: shop.name,
    ...looked,
    date: (ms) => rfc3339(ms).slice(0, 10),
  });
  if (context.json) {
    context.printJson('export', clockMs, { format: 'ics', events: events.map(eventDocument) });
    return EXIT.done;
  }
  const text = calendar(events, rfc3339(clockMs));
  if (typeof options.out === 'string') {
    writeWhole(options.out, text);
    context.note(`Written to ${options.out}`);
  } else context.print(text);
  if (events.length === 0) context.note('No day is in sight: log washes for the pace, and readings');
  return EXIT.done;
}

function eventDocument({ uid, startDate, summary, description }: CalendarEvent): Record<string, string> {
  return { uid, date: startDate, summary, description };
}

/** As for `due`. */
const READING_DAYS = 28;
