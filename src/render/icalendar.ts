/** A calendar of all-day events, as calendar programs import it: RFC 5545. */

export interface CalendarEvent {
  /** The same at every export, so that an import puts the event in place of the one before. */
  uid: string;
  /** 2026-11-20. */
  startDate: string;
  /** The last day, when it is not the first. */
  endDate?: string;
  summary: string;
  description: string;
  categories?: readonly string[];
}

const NEWLINE = '\r\n';
/** Without the line break: RFC 5545, 3.1. */
const MOST_OCTETS = 75;

/**
 * The calendar as text; there should be one event at least, a calendar of none is not valid (RFC 5545, 3.6).
 *
 * @param stamp - when it was made, RFC 3339 with any offset
 */
export function calendar(events: readonly CalendarEvent[], stamp: string): string {
  return [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//bathbook//bathbook//EN',
    'CALSCALE:GREGORIAN',
    ...events.flatMap((event) => eventLines(event, utc(stamp))),
    'END:VCALENDAR',
  ]
    .map((line) => folded(line) + NEWLINE)
    .join('');
}

function eventLines(event: CalendarEvent, stamp: string): string[] {
  const { uid, startDate, endDate, summary, description, categories = [] } = event;
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(uid)}`,
    `DTSTAMP:${stamp}`,
    `DTSTART;VALUE=DATE:${basic(startDate)}`,
    // The first day after the event: RFC 5545, 3.6.1.
    ...(endDate === undefined ? [] : [`DTEND;VALUE=DATE:${basic(dayAfter(endDate))}`]),
    `SUMMARY:${escaped(summary)}`,
    `DESCRIPTION:${escaped(description)}`,
    ...(categories.length > 0 ? [`CATEGORIES:${categories.map(escaped).join(',')}`] : []),
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ];
}

/** A value of type TEXT: RFC 5545, 3.3.11. It holds no control characters but tab and, escaped, the line break. */
function escaped(text: string): string {
  return text
    .replaceAll(/[\\;,]/g, '\\$&')
    .replaceAll(/\r\n|[\r\n]/g, '\\n')
    .replaceAll(/[^\P{Cc}\t]/gu, ' ');
}

/** Broken so that no line is too long, between characters: RFC 5545, 3.1. The blank that goes before the rest counts. */
function folded(line: string): string {
  let text = '';
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character);
    if (octets + size > MOST_OCTETS) {
      text += `${NEWLINE} `;
      octets = 1;
    }
    text += character;
    octets += size;
  }
  return text;
}

/** In UTF-8; half a surrogate pair is written as the replacement character, which has three. */
function octetsOf(character: string): number {
  const code = character.codePointAt(0)!;
  if (code < 0x80) return 1;
  if (code < 0x800) return 2;
  return code < 0x10000 ? 3 : 4;
}

/** 2026-11-20 as 20261120. */
function basic(date: string): string {
  return date.replaceAll('-', '');
}

function dayAfter(date: string): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);
}

/** 2026-11-20T17:30:00-04:00 as 20261120T213000Z. */
function utc(time: string): string {
  return `${new Date(time).toISOString().slice(0, 19).replaceAll(/[-:]/g, '')}Z`;
}
