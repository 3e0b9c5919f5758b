import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { explainTime } from '../../src/ledger/explain-time.ts';
import { parseTime } from '../../src/ledger/time.ts';

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

  it.each([
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
