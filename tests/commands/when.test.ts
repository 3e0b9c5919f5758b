import { beforeAll, describe, expect, it } from 'vitest';
import { rfc3339, useZone } from '../../src/commands/clock.ts';
import { Fault } from '../../src/commands/fault.ts';
import { readWhen } from '../../src/commands/when.ts';

// A Friday. Halifax keeps -04:00 in winter and -03:00 in summer; in 2026 its clocks go forward on 8 March at 02:00 and
// back on 1 November at 02:00 (the second Sunday in March and the first in November).
const NOW = Date.parse('2026-11-20T17:00:00-04:00');

beforeAll(() => useZone('America/Halifax'));

async function read(text: string): Promise<string> {
  return rfc3339(await readWhen(text, NOW));
}

describe('times as people type them', () => {
  it.each([
    ['2026-11-20T17:30:00+01:00', '2026-11-20T12:30:00-04:00'],
    ['2026-11-20T16:30:05Z', '2026-11-20T12:30:05-04:00'],
    ['2026-11-19 17:30', '2026-11-19T17:30:00-04:00'],
    ['2026-11-19T17:30', '2026-11-19T17:30:00-04:00'],
    ['2026-07-01 8:05', '2026-07-01T08:05:00-03:00'],
    ['2026-11-19', '2026-11-19T00:00:00-04:00'],
    ['9:15', '2026-11-20T09:15:00-04:00'],
    ['yesterday 17:30', '2026-11-19T17:30:00-04:00'],
    ['yesterday at 5:30pm', '2026-11-19T17:30:00-04:00'],
    ['2 hours ago', '2026-11-20T15:00:00-04:00'],
    ['monday 9am', '2026-11-16T09:00:00-04:00'],
    ['last friday 17:00', '2026-11-13T17:00:00-04:00'],
    ['saturday 10:00', '2026-11-14T10:00:00-04:00'],
    ['friday 9:00', '2026-11-20T09:00:00-04:00'],
    ['friday 18:00', '2026-11-13T18:00:00-04:00'],
    ['2 days ago', '2026-11-18T17:00:00-04:00'],
    ['yesterday noon', '2026-11-19T12:00:00-04:00'],
    ['last Friday 5pm', '2026-11-13T17:00:00-04:00'],
    ['yesterday morning at 9', '2026-11-19T09:00:00-04:00'],
    ['01:30-03:00', '2026-11-20T00:30:00-04:00'],
    ['2026-11-01 01:30-03:00', '2026-11-01T01:30:00-03:00'],
    ['2026-11-01T01:30-04:00', '2026-11-01T01:30:00-04:00'],
    // Chrono knows no zone: what it makes of words is put on the shop's clock, here before it was put back.
    ['31 october 17:30', '2026-10-31T17:30:00-03:00'],
  ])('%s', async (text, expected) => {
    expect(await read(text)).toBe(expected);
  });

  it.each([
    'soonish',
    '',
    'yesterday 17:30 or so',
    'yesterday and today',
    '25:00',
    '9:61',
    '2026-02-30',
    '2026-13-01 08:00',
    '11/12/2026 8:00',
    '2026-02-30 5pm',
    '2026-03-08 02:30',
    'yesterday 99:99',
    'model',
    'yesterday',
    'friday',
  ])('refuses "%s" rather than take a part of it', async (text) => {
    await expect(readWhen(text, NOW)).rejects.toBeInstanceOf(Fault);
  });
});

describe('the years of a ledger', () => {
  it.each([
    ['0001-01-01', 1],
    ['0099-12-31 08:00', 99],
    ['1999-12-31', 1999],
    ['2200-01-01', 2200],
    ['9999-12-31', 9999],
    ['9999-12-31T23:59:59Z', 9999],
    ['300 years ago', 1726],
  ])('refuses "%s" and names the years', async (text, year) => {
    await expect(read(text)).rejects.toThrow(
      `Cannot take "${text}" as a time, the year is ${year}, allowed is 2000 to 2199`,
    );
  });

  it.each([
    ['2000-01-01', '2000-01-01T00:00:00-04:00'],
    ['2199-12-31 23:59', '2199-12-31T23:59:00-04:00'],
    ['2028-02-29', '2028-02-29T00:00:00-04:00'],
  ])('takes "%s"', async (text, expected) => {
    expect(await read(text)).toBe(expected);
  });

  it.each([
    '2100-02-29',
    '2027-02-29',
    '2016-12-31T23:59:60Z',
    '2026-12-31 23:59:60',
    '2026-11-20T08:00:00+14:01',
  ])('refuses "%s", which no calendar has or no ledger holds', async (text) => {
    await expect(read(text)).rejects.toBeInstanceOf(Fault);
  });
});

describe('a time that may be two, or none', () => {
  it.each([
    [
      '2026-11-01 01:30',
      'Cannot tell which "2026-11-01 01:30" is meant, the clock showed it twice that night',
    ],
    ['1 november 1:30', 'Cannot tell which "1 november 1:30" is meant, the clock showed it twice that night'],
    ['2026-03-08 02:30', 'Cannot use "2026-03-08 02:30" as a time, the clocks went forward over it'],
    ['yesterday at 5', 'Cannot tell the time of day in "yesterday at 5", it may be 5:00 or 17:00'],
    ["5 o'clock", 'Cannot tell the time of day in "5 o\'clock", it may be 5:00 or 17:00'],
    ['yesterday evening', 'Cannot tell the time of day in "yesterday evening"'],
  ])('"%s" is refused', async (text, message) => {
    await expect(read(text)).rejects.toThrow(message);
  });

  it.each([
    '2026-11-01 01:30',
    '2026-03-08 02:30',
    'yesterday at 5',
    'at 5',
    "5 o'clock",
    'yesterday evening',
    'this morning',
    'last night',
    'tonight',
    'friday afternoon',
    '20 Nov',
  ])('and what the help of "%s" says to write is taken', async (text) => {
    const fault = await readWhen(text, NOW).then(
      () => undefined,
      (error: Fault) => error,
    );
    const help = fault?.problems[0]?.help ?? '';
    const written = [...help.matchAll(/"([^"]+)"|(\d{4}-\d\d-\d\d[T ][^ ;]+)/g)].map(
      (one) => (one[1] ?? one[2])!,
    );
    expect(written.length).toBeGreaterThan(0);
    for (const one of written) expect(Number.isFinite(await readWhen(one, NOW))).toBe(true);
  });

  it('the two readings of a time that came twice are an hour apart, and the clock shows both alike', async () => {
    const [first, second] = [await read('2026-11-01 01:30-03:00'), await read('2026-11-01 01:30-04:00')];
    expect(Date.parse(second!) - Date.parse(first!)).toBe(3_600_000);
    expect([first, second].map((one) => one!.slice(0, 16))).toEqual(['2026-11-01T01:30', '2026-11-01T01:30']);
  });
});

describe('a day without a time of day', () => {
  it.each([
    ['today', '2026-11-20T00:00:00-04:00'],
    ['yesterday', '2026-11-19T00:00:00-04:00'],
    ['2026-11-19', '2026-11-19T00:00:00-04:00'],
  ])('%s begins at midnight where days are meant', async (text, expected) => {
    expect(rfc3339(await readWhen(text, NOW, 'starts'))).toBe(expected);
  });
});

describe('the zone', () => {
  it('knows names of UTC and refuses names nobody knows', () => {
    for (const name of ['UTC', 'Etc/UTC', 'Africa/Abidjan', 'Atlantic/Reykjavik']) {
      expect(() => useZone(name)).not.toThrow();
      expect(rfc3339(0)).toBe('1970-01-01T00:00:00+00:00');
    }
    expect(() => useZone('America/Halifx')).toThrow(Fault);
    useZone('America/Halifax');
  });

  it('follows the clocks of the shop through the year', () => {
    expect(rfc3339(Date.parse('2026-03-08T05:59:59Z'))).toBe('2026-03-08T01:59:59-04:00');
    expect(rfc3339(Date.parse('2026-03-08T06:00:00Z'))).toBe('2026-03-08T03:00:00-03:00');
    expect(rfc3339(Date.parse('2026-11-01T04:59:59Z'))).toBe('2026-11-01T01:59:59-03:00');
    expect(rfc3339(Date.parse('2026-11-01T05:00:00Z'))).toBe('2026-11-01T01:00:00-04:00');
  });
});
