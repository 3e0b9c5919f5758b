/**
 * Days to come as events of a calendar, with how sure they are in the text.
 */
import type { DayToCome } from '../outlook/dates.ts';
import type { Outlook } from '../outlook/outlook.ts';
import type { Supply } from '../outlook/supply.ts';
import { volume } from './format.ts';
import type { CalendarEvent } from './icalendar.ts';
import { DISTILLING, TEST_HOW } from './peroxide-words.ts';

interface View {
  /** Name of the shop; may be empty. */
  shop: string;
  outlook: Outlook | null;
  supply: Supply | null;
  /** 2026-11-20 in the shop's zone. */
  date(ms: number): string;
}

/** One all-day event each; the identifiers name shop, matter and bath or solvent, so that a later export takes the place of this one. */
export function calendarEvents(days: readonly DayToCome[], view: View): CalendarEvent[] {
  return days.map((day) => ({
    uid: [slug(view.shop) || 'shop', day.what, day.bath, day.item]
      .filter(Boolean)
      .join('-')
      .concat('@bathbook'),
    startDate: view.date(day.atMs),
    summary: summaryOf(day, view),
    description: `${descriptionOf(day, view)}${day.what === 'test' ? '' : ' An estimate of bathbook; export again after the next washes.'}`,
    categories: ['bathbook'],
  }));
}

function summaryOf({ what, bath, item }: DayToCome, { outlook, supply }: View): string {
  switch (what) {
    case 'change':
      return outlook?.change?.action === 'rotate' ? 'Rotate the baths' : `Refill the ${bath} bath`;
    case 'order':
      return `Order ${supply!.solvent}`;
    case 'age':
      return `The solvent in the ${bath} bath comes to its age limit`;
    case 'reading':
      return 'Take a reading of the baths';
    case 'test':
      return `Peroxide test of ${item}`;
    default:
      return what satisfies never;
  }
}

function descriptionOf(day: DayToCome, { outlook, supply, date }: View): string {
  switch (day.what) {
    case 'change': {
      const early = `Nine chances in ten from ${date(day.fromMs!)} to ${date(day.toMs!)}.`;
      const limit = outlook!.limit!;
      const what = limit.what === 'level' ? 'runs dry' : `reaches its change limit for ${limit.what}`;
      return `The ${limit.bath} bath ${what}. ${early} It takes ${volume(outlook!.change!.solventMl)} of solvent.`;
    }
    case 'order':
      return `${supply!.onHandMl === null ? 'It is not known what is on hand' : `There are ${volume(supply!.onHandMl)} on hand`}, and the next change takes ${volume(supply!.neededMl)}.`;
    case 'age':
      return 'Old solvent is changed even where it is not loaded.';
    case 'reading':
      return 'bathbook calibrate says which reading tells most.';
    case 'test':
      return `The oldest of the reclaimed ${day.item} on hand is to be tested for peroxides (${TEST_HOW}). ${DISTILLING}. Local rules and the safety data sheets decide.`;
    default:
      return day.what satisfies never;
  }
}

/** Letters and digits, joined by hyphens. */
function slug(name: string): string {
  return name
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, '');
}
