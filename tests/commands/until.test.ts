import { beforeAll, describe, expect, it } from 'vitest';
import { rfc3339, useZone } from '../../src/commands/clock.ts';
import { Fault } from '../../src/commands/fault.ts';
import { readUntil } from '../../src/commands/until.ts';

// A Friday.
const NOW = Date.parse('2026-11-20T17:00:00-04:00');

beforeAll(() => useZone('America/Halifax'));

/** The last day that counts. */
async function lastDay(text: string, nowMs = NOW): Promise<string> {
  const end = rfc3339(await readUntil(text, nowMs));
  expect(end).toContain('T00:00:00');
  return rfc3339(Date.parse(end) - 1).slice(0, 10);
}

describe('days to come as people type them', () => {
  it.each([
    ['2026-12-31', '2026-12-31'],
    ['2026-12-31T09:00:00-04:00', '2026-12-31'],
    ['end of year', '2026-12-31'],
    ['End of the year', '2026-12-31'],
    ['end of month', '2026-11-30'],
    ['the end of this month', '2026-11-30'],
    ['end of week', '2026-11-22'],
    ['today', '2026-11-20'],
    ['tomorrow', '2026-11-21'],
    ['10 days', '2026-11-30'],
    ['10d', '2026-11-30'],
    ['in a week', '2026-11-27'],
    ['6 weeks', '2027-01-01'],
    ['in two weeks', '2026-12-04'],
    ['in 3 months', '2027-02-20'],
    ['1 year', '2027-11-20'],
    ['31 December', '2026-12-31'],
    ['Dec 31 2027', '2027-12-31'],
    ['friday', '2026-11-27'],
    ['monday', '2026-11-23'],
    ['in 5 years', '2031-11-20'],
  ])('%s', async (text, expected) => {
    expect(await lastDay(text)).toBe(expected);
  });

  it('is the last of a month that has no such day', async () => {
    const endOfJanuary = Date.parse('2027-01-31T10:00:00-04:00');
    expect(await lastDay('in 1 month', endOfJanuary)).toBe('2027-02-28');
    expect(await lastDay('end of week', Date.parse('2026-11-22T10:00:00-04:00'))).toBe('2026-11-22');
  });

  it.each([
    ['yesterday', 'is over'],
    ['2026-11-19', 'is over'],
    ['2031-11-21', 'more than 5 years ahead'],
    ['in 61 months', 'more than 5 years ahead'],
    ['999999999999 years', 'more than 5 years ahead'],
    ['soonish', 'as a day'],
    ['', 'as a day'],
    ['6', 'as a day'],
    ['11/12/2026', 'as a day'],
    ['2026-13-01', 'as a day'],
    ['2026-02-30', 'as a day'],
    ['december', 'as a day'],
    ['friday or so', 'as a day'],
  ])('refuses "%s": %s', async (text, words) => {
    const fault = await readUntil(text, NOW).catch((error: unknown) => error);
    expect(fault).toBeInstanceOf(Fault);
    expect(fault).toMatchObject({ exit: 64, message: expect.stringContaining(words) });
  });
});
