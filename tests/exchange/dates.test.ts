import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DateStyle, readDate } from '../../src/exchange/dates.ts';

/** A shop whose clocks are at UTC. */
const local = (at: {
  year: number;
  month: number;
  day: number;
  hour: number;
  minute: number;
  second: number;
}) => Date.UTC(at.year, at.month - 1, at.day, at.hour, at.minute, at.second);

const read = (text: string, style?: DateStyle, clock?: string) => {
  const found = readDate(text, { style, local, clock });
  if ('ms' in found) return new Date(found.ms).toISOString().replace(':00.000Z', found.timed ? '' : ' day');
  return 'either' in found ? found.either.join(' or ') : found.message;
};

describe('dates of spreadsheets', () => {
  it.each([
    ['2026-11-20T17:30:00-04:00', '2026-11-20T21:30'],
    ['2026-11-20 17:30', '2026-11-20T17:30'],
    ['2026-11-20T17:30', '2026-11-20T17:30'],
    ['2026/11/20', '2026-11-20T12:00 day'],
    ['20/11/2026 5:30 PM', '2026-11-20T17:30'],
    ['11/20/2026 12:05 am', '2026-11-20T00:05'],
    ['20.11.2026, 7.05', '2026-11-20T07:05'],
    ['20 Nov 2026', '2026-11-20T12:00 day'],
    ['20-Nov-2026 07:05', '2026-11-20T07:05'],
    ['November 20, 2026 7:05', '2026-11-20T07:05'],
    ['03/03/2026', '2026-03-03T12:00 day'],
    ['29/02/2028', '2028-02-29T12:00 day'],
  ])('%s can be read in one way', (text, moment) => {
    expect(read(text)).toBe(moment);
  });

  it.each([
    ['03/04/2026', '3 April 2026 or 4 March 2026'],
    ['3.4.2026 8:15', '3 April 2026 or 4 March 2026'],
    ['03/04/26', '3 April 2026 or 4 March 2026'],
    // Two digits of a year may come first.
    ['25/11/26', '25 November 2026 or 26 November 2025'],
    ['03/03/26', '3 March 2026 or 26 March 2003'],
  ])('%s is told with both', (text, either) => {
    expect(read(text)).toBe(either);
  });

  it('takes the style that was said, and still what cannot be misread', () => {
    expect(read('03/04/2026 8:15', 'd/m/y')).toBe('2026-04-03T08:15');
    expect(read('03/04/2026 8:15', 'm/d/y')).toBe('2026-03-04T08:15');
    expect(read('25/11/26', 'd/m/y')).toBe('2026-11-25T12:00 day');
    expect(read('2026-04-03 08:15', 'm/d/y')).toBe('2026-04-03T08:15');
    expect(read('25/11/2026', 'm/d/y')).toContain('Cannot find the day');
    expect(read('25/11/2026', 'iso')).toContain('Cannot find the day');
  });

  it('takes the time of day from a cell of its own', () => {
    expect(read('20/11/2026', undefined, '17:30')).toBe('2026-11-20T17:30');
    expect(read('20/11/2026', undefined, '5 pm')).toBe('2026-11-20T17:00');
    expect(read('20/11/2026', undefined, '')).toBe('2026-11-20T12:00 day');
    expect(read('20/11/2026', undefined, 'noon-ish')).toContain('Cannot read');
  });

  it.each([
    '',
    'soon',
    '31/02/2026',
    '2026-13-01',
    '20/11/2026 25:00',
    '20/11/2026 13 pm',
    '46346.5',
    '20/11',
  ])('refuses %j', (text) => {
    expect(read(text)).toMatch(/^Cannot /);
  });

  it('refuses an hour that the clock skipped', () => {
    expect(readDate('2026-03-29 02:30', { style: undefined, local: () => undefined })).toMatchObject({
      message: expect.stringContaining('clocks went forward'),
    });
  });

  it('reads each day that it is written for, in every style', () => {
    const day = fc.date({
      min: new Date('2000-01-01T00:00:00Z'),
      max: new Date('2099-12-31T00:00:00Z'),
      noInvalidDate: true,
    });
    fc.assert(
      fc.property(day, fc.constantFrom<DateStyle>('d/m/y', 'm/d/y', 'iso'), (date, style) => {
        const [y, m, d] = date.toISOString().slice(0, 10).split('-');
        const text = { 'd/m/y': `${d}/${m}/${y}`, 'm/d/y': `${m}/${d}/${y}`, iso: `${y}-${m}-${d}` }[style];
        expect(read(text, style)).toBe(`${y}-${m}-${d}T12:00 day`);
      }),
    );
  });
});
