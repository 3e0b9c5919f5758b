import { describe, expect, it } from 'vitest';
import { datesOf, marksOf, ruleOf } from '../../src/render/chart-dates.ts';
import { columnOf, frameOf } from '../../src/render/chart-frame.ts';

const DAY = 86_400_000;
const NOW = Date.UTC(2026, 10, 20, 16);
const MIDNIGHT = Date.UTC(2026, 10, 20);

function day(ms: number): string {
  const name = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'][new Date(ms).getUTCDay()];
  return `${name} ${new Date(ms).toISOString().slice(0, 10)}`;
}

function axis(back: number, ahead: number, room: number) {
  const frame = frameOf({ firstMs: MIDNIGHT - back * DAY, nowMs: NOW, lastMs: MIDNIGHT + ahead * DAY, room });
  const midnights = Array.from({ length: back + ahead + 1 }, (_, at) => MIDNIGHT + (at - back) * DAY);
  const shown = midnights.filter((ms) => ms >= frame.fromMs);
  const marks = marksOf(frame, shown, day);
  return { frame, marks, rule: ruleOf(frame, marks, { rule: '_', tick: '|' }), dates: datesOf(frame, marks) };
}

describe('the dates under a chart', () => {
  it.each([
    [3, 5, 54],
    [10, 7, 54],
    [20, 20, 54],
    [60, 90, 54],
    [60, 90, 190],
    [200, 380, 100],
  ])(
    'of %d days back and %d ahead in %d columns are true, apart, and each under its tick',
    (back, ahead, room) => {
      const { frame, marks, rule, dates } = axis(back, ahead, room);
      expect(rule).toHaveLength(frame.columns);
      expect(dates.length).toBeLessThanOrEqual(frame.columns);
      const words = [...dates.matchAll(/today|[A-Z][a-z]{2} \d+/g)];
      expect(words.map(([word]) => word)).toEqual(marks.map(({ text }) => text));
      expect(words.length).toBeGreaterThanOrEqual(3);
      expect(dates.replaceAll(/today|[A-Z][a-z]{2} \d+/g, '').trim()).toBe('');
      expect([...rule].filter((sign) => sign === '|')).toHaveLength(words.length);
      for (const { index, 0: word } of words) {
        const tick = rule.slice(index, index + word.length).indexOf('|');
        expect(tick).toBeGreaterThanOrEqual(0);
        const column = index + tick;
        if (word === 'today') expect(column).toBe(columnOf(frame, NOW));
        else {
          const year = column < columnOf(frame, Date.UTC(2027, 0, 1)) ? 2026 : 2027;
          expect(column).toBe(columnOf(frame, Date.parse(`${word} ${year} UTC`)));
        }
      }
    },
  );

  it('are Mondays where a day has few columns', () => {
    const { marks } = axis(30, 30, 60);
    for (const { text } of marks.filter((mark) => mark.text !== 'today'))
      expect(new Date(Date.parse(`${text} 2026 UTC`)).getUTCDay()).toBe(1);
  });
});
