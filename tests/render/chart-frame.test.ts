import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnOf, frameOf, momentOf } from '../../src/render/chart-frame.ts';

const DAY = 86_400_000;
const span = (back: number, ahead: number, room: number) =>
  frameOf({ firstMs: -back * DAY, nowMs: 0, lastMs: ahead * DAY, room });

describe('the frame of a chart', () => {
  it('holds all there is where it fits', () => {
    expect(span(20, 10, 60)).toEqual({ fromMs: -20 * DAY, toMs: 10 * DAY, nowMs: 0, columns: 60 });
  });

  it('looks back as many days as there are columns left', () => {
    expect(span(300, 10, 60).fromMs).toBe(-50 * DAY);
  });

  it('keeps a quarter for what lies behind', () => {
    expect(span(300, 90, 60).fromMs).toBe(-30 * DAY);
    expect(span(3, 90, 60).fromMs).toBe(-3 * DAY);
  });

  it('gives a day four columns at most', () => {
    expect(span(2, 3, 200).columns).toBe(20);
  });

  it('has each moment in the column that stands for it', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }),
        fc.integer({ min: 1, max: 400 }),
        fc.integer({ min: 50, max: 194 }),
        (back, ahead, room) => {
          const frame = span(back, ahead, room);
          expect(frame.columns).toBeLessThanOrEqual(room);
          for (let column = 0; column < frame.columns; column += 1) {
            expect(columnOf(frame, momentOf(frame, column))).toBe(column);
            if (column > 0) expect(momentOf(frame, column)).toBeGreaterThan(momentOf(frame, column - 1));
          }
          expect(columnOf(frame, frame.toMs)).toBe(frame.columns - 1);
          expect(momentOf(frame, columnOf(frame, 0))).toBe(0);
        },
      ),
    );
  });
});
