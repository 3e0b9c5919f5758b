import { describe, expect, it } from 'vitest';
import { explainTime } from '../../src/ledger/explain-time.ts';
import { parseTime } from '../../src/ledger/time.ts';

const FORM = 'Write it like 2026-11-02T07:40:00-04:00: date, "T", time with seconds, offset from UTC';

describe('a date that is none', () => {
  const month = (date: string, nth: string) => `${date} has month ${nth}, allowed is 01 to 12`;
  const day = (date: string, days: number) => `${date} is no date, that month has ${days} days`;
  const year = (nth: number) => `the year is ${nth}, allowed is 2000 to 2199`;
  it.each([
    ['2026-00-10', month('2026-00-10', '00'), FORM],
    ['2026-13-10', month('2026-13-10', '13'), FORM],
    ['2026-99-99', month('2026-99-99', '99'), FORM],
    ['2026-01-00', day('2026-01-00', 31), 'Write the day it happened'],
    ['2026-12-32', day('2026-12-32', 31), 'Write the day it happened'],
    ['2026-04-31', day('2026-04-31', 30), 'Write the day it happened'],
    ['2026-02-29', day('2026-02-29', 28), 'Write the day it happened'],
    ['2028-02-30', day('2028-02-30', 29), 'Write the day it happened'],
    ['1999-12-31', year(1999), 'Write the year it happened'],
    ['2200-01-01', year(2200), 'Write the year it happened'],
    ['1999-02-29', day('1999-02-29', 28), 'Write the day it happened'],
  ])('%s: %s', (date, message, help) => {
    for (const rest of ['T07:40:00-04:00', ' 07:40', '', 'T07:40:00']) {
      expect(explainTime('at', `${date}${rest}`)).toEqual({
        code: 'no-such-date',
        message: `Cannot take at: ${message}`,
        help,
      });
    }
  });

  it.each(['2026-01-01', '2026-12-31', '2026-04-30', '2028-02-29', '2000-01-01', '2199-12-31'])(
    'is not %s, what is wrong is something else',
    (date) => {
      expect(explainTime('at', `${date}T07:40:00`).code).toBe('no-offset');
      expect(explainTime('at', `${date}T07:40:00 UTC`).code).toBe('bad-time');
    },
  );

  it.each(['x2026-13-10', ' 2026-13-10', '2026-13-101', '226-13-10', '2026-13-1', '2026-1-32', '2026/13/10'])(
    'is only looked for where one stands: %j',
    (text) => {
      expect(explainTime('at', text)).toMatchObject({ code: 'bad-time', help: FORM });
    },
  );
});

describe('a time without offset', () => {
  it.each([
    ['2026-11-02T07:40:00', '2026-11-02T07:40:00'],
    ['2026-11-02T07:40', '2026-11-02T07:40:00'],
    ['2026-11-02 07:40', '2026-11-02T07:40:00'],
    ['2026-11-02t07:40:59', '2026-11-02T07:40:59'],
    ['2026-11-02 07:40:59.5', '2026-11-02T07:40:59.5'],
    ['2026-11-02T07:40:59.123456', '2026-11-02T07:40:59.123456'],
  ])('%s is shown with one', (text, whole) => {
    expect(explainTime('logged', text)).toEqual({
      code: 'no-offset',
      message: `Cannot take logged: "${text}" has no offset from UTC, so the instant is not known`,
      help: `Add the offset that was in force there and then, like ${whole}-04:00, or Z for UTC`,
    });
    expect(parseTime(`${whole}-04:00`)).not.toBeNaN();
    expect(parseTime(`${whole}Z`)).not.toBeNaN();
  });

  it.each([
    'at 2026-11-02T07:40:00',
    '2026-11-02T07:40:00 about',
    '2026-11-02',
    '2026-11-02T07',
    '2026-11-02T7:40',
    '2026-11-02T07:40:0',
    '2026-11-02T07:40:00.',
    '2026-11-02T07:40:00x5',
    '2026-11-02T07:4',
    '2026-11-02x07:40:00',
    '12026-11-02T07:40:00',
  ])('is more than the offset away in %j', (text) => {
    expect(explainTime('at', text)).toEqual({
      code: 'bad-time',
      message: `Cannot take at: "${text}" is not a time the ledger can read`,
      help: FORM,
    });
  });
});

describe('a time in another spelling', () => {
  it.each([
    ['2026-11-02T07:40-04:00', '2026-11-02T07:40:00-04:00'],
    ['2026-11-02 07:40 -04:00', '2026-11-02T07:40:00-04:00'],
    ['2026-11-02 07:40:30  +0130', '2026-11-02T07:40:30+01:30'],
    ['2026-11-02T07:40:30+05', '2026-11-02T07:40:30+05:00'],
    ['2026-11-02T07:40:30 Z', '2026-11-02T07:40:30Z'],
    ['2026-11-02 07:40z', '2026-11-02T07:40:00Z'],
    ['2026-11-02t07:40:30.25-0400', '2026-11-02T07:40:30.25-04:00'],
    ['2026-11-02 07:40:30.123456789Z', '2026-11-02T07:40:30.123456789Z'],
  ])('%s is told to be %s', (text, right) => {
    expect(explainTime('logged', text)).toEqual({
      code: 'bad-time',
      message: `Cannot take logged: "${text}" is not a time the ledger can read`,
      help: `Write logged: ${right}`,
    });
    expect(parseTime(right)).not.toBeNaN();
  });

  it.each([
    '2026-11-02T24:00:00Z',
    '2026-11-02T07:60:00-04:00',
    '2026-11-02T07:40:00-15:00',
    '2026-11-02T07:40:00.1234567890Z',
    '2026-11-02T07:40:00 04:00',
    '2026-11-02T07:40:00-4:00',
    '2026-11-02T07:40:00-04:0',
    '2026-11-02T07:40:00ZZ',
    '2026-11-02T07:40:00+01:00 or so',
    'on 2026-11-02T07:40-04:00',
    '2026-11-02  07:40-04:00',
    'yesterday',
    '',
  ])('cannot be guessed from %j', (text) => {
    expect(explainTime('at', text)).toMatchObject({ code: 'bad-time', help: FORM });
  });
});
