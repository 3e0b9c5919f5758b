import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { explainTime } from '../../src/ledger/explain-time.ts';
import { daysInMonth, parseTime } from '../../src/ledger/time.ts';

describe('times', () => {
  it('agree with the JavaScript Date for every instant and offset', () => {
    const instant = fc.integer({ min: Date.UTC(2000, 0, 2), max: Date.UTC(2199, 11, 30) });
    fc.assert(
      fc.property(instant, fc.integer({ min: -840, max: 840 }), fc.boolean(), (ms, offsetMin, withMs) => {
        const local = new Date(ms + offsetMin * 60_000).toISOString().slice(0, withMs ? 23 : 19);
        const size = Math.abs(offsetMin);
        const two = (n: number): string => String(n).padStart(2, '0');
        const text = `${local}${offsetMin < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
        expect(parseTime(text)).toBe(Date.parse(text));
        expect(parseTime(`${local}Z`)).toBe(Date.parse(`${local}Z`));
      }),
    );
  });

  it('have the days that the months of the Gregorian calendar have, in every year that a ledger may hold', () => {
    // The engine's own calendar: the day before the first of the next month.
    for (let year = 2000; year <= 2199; year += 1)
      for (let month = 1; month <= 12; month += 1) {
        const days = new Date(Date.UTC(year, month, 0)).getUTCDate();
        expect(daysInMonth(year, month)).toBe(days);
        const day = (nth: number) => `${year}-${String(month).padStart(2, '0')}-${nth}T12:00:00+00:00`;
        expect(parseTime(day(days))).toBe(Date.UTC(year, month - 1, days, 12));
        expect(parseTime(day(days + 1))).toBeNaN();
      }
  });

  it('are read as an expression and the calendar of the engine read them, whatever sign stands where', () => {
    const shape = /^(\d{4})-(\d\d)-(\d\d)T([01]\d|2[0-3]):([0-5]\d):([0-5]\d)(?:Z|([+-])(\d\d):([0-5]\d))$/;
    const judged = (text: string): number => {
      const parts = shape.exec(text);
      if (parts === null || Number(parts[1]) < 2000 || Number(parts[1]) > 2199) return Number.NaN;
      const [year, month, day, hour, minute, second] = parts.slice(1, 7).map(Number) as number[];
      const local = new Date(Date.UTC(year!, month! - 1, day!, hour!, minute!, second!));
      const offset = Number(parts[8] ?? 0) * 60 + Number(parts[9] ?? 0);
      if (local.getUTCMonth() + 1 !== month || offset > 14 * 60) return Number.NaN;
      return local.getTime() - (parts[7] === '-' ? -1 : 1) * offset * 60_000;
    };
    // The signs just beside digits and separators, and others.
    const signs = [...'0123456789/:;.,+-* TtZz'];
    for (const text of ['2026-11-02T07:40:00-04:00', '2199-12-31T23:59:59+13:59', '2000-01-01T00:00:00Z'])
      for (let at = 0; at < text.length; at += 1)
        for (const sign of signs) {
          const tried = `${text.slice(0, at)}${sign}${text.slice(at + 1)}`;
          expect(parseTime(tried), tried).toBe(judged(tried));
        }
  });

  it.each([
    ['2000-01-01T00:00:00Z', Date.UTC(2000, 0, 1)],
    ['2199-12-31T23:59:59+00:00', Date.UTC(2199, 11, 31, 23, 59, 59)],
    ['2026-11-02T07:40:00-14:00', Date.UTC(2026, 10, 2, 21, 40)],
    ['2026-11-02T07:40:00.5-04:00', Date.UTC(2026, 10, 2, 11, 40, 0, 500)],
    // 0.007 in binary is a little less than seven thousandths: no millisecond is lost by that.
    ['2026-11-02T07:40:00.007Z', Date.UTC(2026, 10, 2, 7, 40, 0, 7)],
    ['2026-11-02T07:40:00-04:00', 1793619600000],
    ['2024-02-29T00:00:00Z', Date.UTC(2024, 1, 29)],
    ['2026-11-02T07:40:00.123456789Z', Date.UTC(2026, 10, 2, 7, 40, 0, 123)],
    ['2026-11-02T23:59:59+14:00', Date.UTC(2026, 10, 2, 9, 59, 59)],
  ])('%s is read', (text, ms) => {
    expect(parseTime(text)).toBe(ms);
  });

  it.each([
    '2026-02-29T00:00:00Z',
    '2026-04-31T00:00:00-04:00',
    '2026-00-10T00:00:00Z',
    '2026-13-10T00:00:00Z',
    '2026-11-00T00:00:00Z',
    '2026-11-02T24:00:00Z',
    '2026-11-02T07:60:00-04:00',
    '2026-11-02T07:40:60-04:00',
    '2026-11-02T07:40:00-04:60',
    '2026-11-02T07:40:00+15:00',
    '2026-11-02T07:40:00-14:01',
    '2026-11-02T07:40:00.5+14:01',
    '2026-11-02T07:60:00.5-04:00',
    '2026-11-02T07:40:60.5-04:00',
    '2026-11-02T07:40:00.5-04:60',
    '2026-11-02T24:00:00.5Z',
    '2026-11-02T07:40:00.1234567891Z',
    '1999-12-31T23:59:59Z',
    '2200-01-01T00:00:00Z',
    '1985-04-12T23:20:50.52Z',
    '2026-11-02T07:40:00',
    '2026-11-02T07:40-04:00',
    '2026-11-02 07:40:00-04:00',
    '2026-11-02t07:40:00z',
    '2026-11-02T07:40:00-0400',
    '2026-11-02T07:40:00 04:00',
    '2026-11-02',
    'x026-11-02T07:40:00-04:00',
    '',
  ])('%j is refused and told', (text) => {
    expect(parseTime(text)).toBeNaN();
    expect(explainTime('at', text).code).toMatch(/^(no-such-date|no-offset|bad-time)$/);
  });

  it.each([
    ['2026-11-02 07:40-04:00', 'Write at: 2026-11-02T07:40:00-04:00'],
    ['2026-11-02t07:40:00z', 'Write at: 2026-11-02T07:40:00Z'],
    ['2026-11-02T07:40:00-0400', 'Write at: 2026-11-02T07:40:00-04:00'],
    ['2026-11-02T07:40:00-04', 'Write at: 2026-11-02T07:40:00-04:00'],
  ])('%j is answered with the right spelling', (text, help) => {
    expect(explainTime('at', text).help).toBe(help);
  });
});
