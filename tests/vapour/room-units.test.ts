import { describe, expect, it } from 'vitest';
import { readAir, readRoom } from '../../src/vapour/room-units.ts';

const valueIn = (parsed: ReturnType<typeof readRoom>) => ('value' in parsed ? parsed.value : Number.NaN);

describe('the size of a room', () => {
  // 1 ft = 0.3048 m, exact (NIST SP 811).
  it.each([
    ['30 m3', 30],
    ['30', 30],
    ['30m³', 30],
    ['1000 ft3', 1000 * 0.3048 ** 3],
    ['30000 L', 30],
    ['4 x 3 x 2.5 m', 30],
    ['4x3x2,5', 30],
    ['12 × 10 × 8 ft', 960 * 0.3048 ** 3],
  ])('%s', (text, wanted) => {
    expect(valueIn(readRoom(text))).toBeCloseTo(wanted, 9);
  });

  it.each(['', 'big', '-3 m3', '1,000 ft3', '3 m2', '4 x 3', '4 x 3 x 2 yd', 'NaN', '1e3', '3..2'])(
    'refuses "%s"',
    (text) => {
      expect(readRoom(text)).toMatchObject({
        message: expect.stringContaining(`"${text}"`),
        help: expect.any(String),
      });
    },
  );
});

describe('fresh air', () => {
  it.each([
    ['60 m3/h', 60],
    ['60', 60],
    ['1 m³/min', 60],
    ['17 L/s', 61.2],
    ['35 cfm', 35 * 60 * 0.3048 ** 3],
    ['35 ft3/min', 35 * 60 * 0.3048 ** 3],
  ])('%s', (text, wanted) => {
    expect(valueIn(readAir(text))).toBeCloseTo(wanted, 9);
  });

  it('names the units for one it does not know', () => {
    expect(readAir('60 m3/hr')).toMatchObject({
      unknownUnit: { name: 'm3/hr', units: expect.arrayContaining(['m3/h']) },
    });
  });
});
