import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../src/ledger/event.ts';
import type { Days } from '../../src/outlook/pace.ts';
import { shiftsIn, spreadEvenly, workingHours } from '../../src/outlook/working-hours.ts';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
/** A calendar in UTC; 1970-01-01 was a Thursday. */
const days: Days = {
  startOf: (ms) => Math.floor(ms / DAY_MS) * DAY_MS,
  next: (ms) => ms + DAY_MS,
  weekday: (ms) => (4 + Math.floor(ms / DAY_MS)) % 7,
};
const MONDAY = Date.parse('2026-11-16T00:00:00Z');

const washAt = (atMs: number, more: object = {}): Entry => ({
  event: { id: String(atMs), at: '', what: 'wash', ...more } as Entry['event'],
  atMs,
  line: 0,
  place: 0,
});

describe('working hours', () => {
  it('are Monday to Friday from eight to five while a shop is new', () => {
    const hours = workingHours([washAt(MONDAY + 3 * HOUR_MS)], MONDAY + DAY_MS, days);
    expect([hours.fromMin, hours.toMin, hours.basis]).toEqual([480, 1020, 0]);
    expect(hours.weekdays.map(Number)).toEqual([0, 1, 1, 1, 1, 1, 0]);
  });

  it('are those of the washes that were counted in the last four weeks', () => {
    const counted = [10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20].map((hour) =>
      washAt(MONDAY + (hour % 2 ? DAY_MS : 5 * DAY_MS) + hour * HOUR_MS),
    );
    const guessed = Array.from({ length: 30 }, () => washAt(MONDAY + HOUR_MS, { estimated: true }));
    const old = Array.from({ length: 30 }, () => washAt(MONDAY - 40 * DAY_MS));
    const hours = workingHours([...old, ...guessed, ...counted], MONDAY + 6 * DAY_MS, days);
    // Of eleven, one lies before the first tenth and one behind the last.
    expect([hours.fromMin, hours.toMin, hours.basis]).toEqual([11 * 60, 19 * 60, 11]);
    expect(hours.weekdays.map(Number)).toEqual([0, 0, 1, 0, 0, 0, 1]);
  });
});

describe('moments spread over them', () => {
  const hours = workingHours([], MONDAY, days);
  const at = (count: number, fromMs: number, toMs: number) =>
    spreadEvenly(count, { fromMs, toMs }, hours, days).map((ms) => new Date(ms).toISOString().slice(8, 16));

  it('stand in the middle of equal shares, worked out by hand', () => {
    expect(at(1, MONDAY, MONDAY + DAY_MS)).toEqual(['16T12:30']);
    expect(at(3, MONDAY, MONDAY + DAY_MS)).toEqual(['16T09:30', '16T12:30', '16T15:30']);
    expect(at(2, MONDAY, MONDAY + 2 * DAY_MS)).toEqual(['16T12:30', '17T12:30']);
    // From Friday noon to Monday noon: five hours and four.
    expect(at(1, MONDAY - 2.5 * DAY_MS, MONDAY + DAY_MS / 2)).toEqual(['13T16:30']);
  });

  it('take the hours of other days where no working day lies in it', () => {
    expect(at(2, MONDAY - 2 * DAY_MS, MONDAY)).toEqual(['14T12:30', '15T12:30']);
  });

  it('take the whole time where no hour of work does', () => {
    const midnight = MONDAY + DAY_MS;
    expect(at(2, midnight, midnight + DAY_MS / 6)).toEqual(['17T01:00', '17T03:00']);
  });

  it('which of them is told', () => {
    const of = (fromMs: number, toMs: number) => shiftsIn({ fromMs, toMs }, hours, days).of;
    expect(of(MONDAY, MONDAY + DAY_MS)).toBe('working days');
    expect(of(MONDAY - 2 * DAY_MS, MONDAY)).toBe('every day');
    expect(of(MONDAY, MONDAY + DAY_MS / 6)).toBe('the whole time');
  });

  it('lie within the span, in order', () => {
    const span = fc.tuple(
      fc.integer({ min: 0, max: 20 * DAY_MS }),
      fc.integer({ min: 60_000, max: 40 * DAY_MS }),
    );
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), span, (count, [start, length]) => {
        const fromMs = MONDAY + start;
        const moments = spreadEvenly(count, { fromMs, toMs: fromMs + length }, hours, days);
        expect(moments).toHaveLength(count);
        moments.forEach((ms, place) => {
          expect(ms).toBeGreaterThanOrEqual(fromMs);
          expect(ms).toBeLessThanOrEqual(fromMs + length);
          if (place > 0) expect(ms).toBeGreaterThanOrEqual(moments[place - 1]!);
        });
      }),
    );
  });
});
