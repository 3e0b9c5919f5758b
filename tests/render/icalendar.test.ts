import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CalendarEvent, calendar } from '../../src/render/icalendar.ts';
import { rawLines, readCalendar } from './icalendar-rules.ts';

const STAMP = '2026-11-20T17:30:00-04:00';

const EVENT: CalendarEvent = {
  uid: 'clean-change@cove-street-bench',
  startDate: '2026-12-03',
  summary: 'Change the clean bath',
  description: 'About 2026-12-03 (Nov 30 to Dec 9)',
};

const one = (event: Partial<CalendarEvent>) => readCalendar(calendar([{ ...EVENT, ...event }], STAMP))[0]!;

/** Text without control characters, but with line breaks and tabs; half of a surrogate pair is no text. */
const text = fc
  .array(
    fc.oneof(
      fc.string({ unit: 'grapheme', maxLength: 30 }),
      fc.string({ unit: 'binary', maxLength: 30 }),
      fc.constantFrom('\n', '\t', '\\', '\\n', ';', ',', ':', '"', '浴', '🧴', 'é', ' ', '  ', '\r'),
    ),
    { maxLength: 30 },
  )
  .map((parts) =>
    parts
      .join('')
      .replaceAll(/[^\P{Cc}\t\n]/gu, '')
      .replaceAll(/\p{Cs}/gu, ''),
  );

const day = fc
  .date({ min: new Date('1990-01-01'), max: new Date('2100-12-31'), noInvalidDate: true })
  .map((date) => date.toISOString().slice(0, 10));

describe('a calendar read back by the grammar of RFC 5545', () => {
  it('gives what was put in, whatever the text', () => {
    const event = fc.record(
      {
        uid: text,
        startDate: day,
        endDate: day,
        summary: text,
        description: text,
        categories: fc.array(text, { minLength: 1, maxLength: 4 }),
      },
      { requiredKeys: ['uid', 'startDate', 'summary', 'description'] },
    );
    fc.assert(
      fc.property(fc.array(event, { minLength: 1, maxLength: 4 }), (events) => {
        const read = readCalendar(calendar(events as CalendarEvent[], STAMP));
        expect(
          read.map(({ uid, startDate, summary, description, categories }) => ({
            uid,
            startDate,
            summary,
            description,
            categories,
          })),
        ).toEqual(
          events.map(({ uid, startDate, summary, description, categories = [] }) => ({
            uid,
            startDate,
            summary,
            description,
            categories,
          })),
        );
      }),
      { numRuns: 300 },
    );
  });

  it('has no line over 75 octets, none cut inside a character, and CRLF alone', () => {
    fc.assert(
      fc.property(text, text, (summary, description) => {
        for (const line of rawLines(calendar([{ ...EVENT, summary, description }], STAMP))) {
          expect(line.length).toBeLessThanOrEqual(75);
          // Throws on a sequence that is cut.
          new TextDecoder('utf-8', { fatal: true }).decode(line);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('fills a line to 75 octets and no further', () => {
    // "SUMMARY:" has 8.
    expect(
      rawLines(calendar([{ ...EVENT, summary: 'x'.repeat(67) }], STAMP)).some((line) => line.length === 75),
    ).toBe(true);
    const lines = rawLines(calendar([{ ...EVENT, summary: 'x'.repeat(68) }], STAMP)).map((line) =>
      Buffer.from(line).toString(),
    );
    expect(lines.slice(lines.findIndex((line) => line.startsWith('SUMMARY'))).slice(0, 2)).toEqual([
      `SUMMARY:${'x'.repeat(67)}`,
      ' x',
    ]);
  });

  it('takes control characters for blanks', () => {
    expect(one({ summary: 'a\u0007b\u001b[31mc\u0085d\u007f' }).summary).toBe('a b [31mc d ');
    expect(one({ summary: 'a\r\nb\rc\nd' }).summary).toBe('a\nb\nc\nd');
  });
});

describe('an event', () => {
  it('is written as RFC 5545 writes the like, 3.3.11 and 3.6.1', () => {
    // The text of the example in 3.3.11, and its escaped form there.
    const summary = 'Project XYZ Final Review\nConference Room - 3B\nCome Prepared.';
    expect(calendar([{ ...EVENT, summary }], STAMP)).toContain(
      'SUMMARY:Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.\r\n',
    );
  });

  it('ends on its last day: DTEND is the day after', () => {
    expect(one({}).end).toBeUndefined();
    expect(one({ startDate: '2026-12-30', endDate: '2026-12-31' }).end).toBe('2027-01-01');
    expect(one({ startDate: '2028-02-27', endDate: '2028-02-28' }).end).toBe('2028-02-29');
    expect(one({ startDate: '2026-03-07', endDate: '2026-03-08' }).end).toBe('2026-03-09');
  });

  it('is stamped in UTC', () => {
    expect(one({}).stamp).toBe('20261120T213000Z');
    expect(readCalendar(calendar([EVENT], '2026-07-01T00:15:59+02:00'))[0]!.stamp).toBe('20260630T221559Z');
  });

  it('keeps its UID from one export to the next, and takes no time of anybody', () => {
    const later = readCalendar(
      calendar([{ ...EVENT, startDate: '2026-12-08' }], '2026-11-27T08:00:00-04:00'),
    )[0]!;
    expect(later.uid).toBe(one({}).uid);
    expect(later.transparency).toBe('TRANSPARENT');
  });
});

describe('the reader of these tests', () => {
  const good = calendar([EVENT], STAMP);

  it.each([
    ['a bare LF', good.replace('\r\nVERSION', '\nVERSION')],
    ['an event without a UID', good.replace(/UID:.*\r\n/, '')],
    ['an event without a stamp', good.replace(/DTSTAMP:.*\r\n/, '')],
    ['two summaries', good.replace(/(SUMMARY:.*\r\n)/, '$1$1')],
    ['a calendar without a PRODID', good.replace(/PRODID:.*\r\n/, '')],
    ['a bare comma', good.replace('Change the', 'Change, the')],
    ['a backslash before another letter', good.replace('Change the', 'Change\\q the')],
    ['no such day', good.replace('20261203', '20261303')],
    ['a line of 76 octets', good.replace(/SUMMARY:.*\r\n/, `SUMMARY:${'x'.repeat(68)}\r\n`)],
    ['no event', good.replace(/BEGIN:VEVENT[\s\S]*END:VEVENT\r\n/, '')],
    ['an unknown property', good.replace('TRANSP:', 'TRANSPARENCY:')],
    ['a missing last line break', good.slice(0, -2)],
  ])('refuses %s', (_, wrong) => {
    expect(wrong).not.toBe(good);
    expect(() => readCalendar(wrong)).toThrow();
  });
});
