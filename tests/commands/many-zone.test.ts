/** Zones of several shops in one process: Node reads the zone from TZ, which is one for all of it. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { rfc3339, useZone } from '../../src/commands/clock.ts';
import { lookAtEach } from '../../src/commands/many.ts';

// Winter in the north: offsets from the zone database.
const MS = Date.parse('2026-11-20T17:00:00Z');
const OFFSETS: Record<string, string> = {
  'America/Halifax': '2026-11-20T13:00:00-04:00',
  'Europe/Lisbon': '2026-11-20T17:00:00+00:00',
  'Asia/Kolkata': '2026-11-20T22:30:00+05:30',
};

const before = process.env.TZ;
beforeEach(() => {
  process.env.TZ = 'Asia/Tokyo';
});
afterEach(() => {
  if (before === undefined) delete process.env.TZ;
  else process.env.TZ = before;
});

const TOKYO = '2026-11-21T02:00:00+09:00';

/** Looks at ledgers named after their zones; "none" has none. */
const timesIn = (zones: string[]) => {
  const left = [...zones];
  return lookAtEach(zones, {}, async () => {
    const zone = left.shift()!;
    useZone(zone === 'none' ? undefined : zone);
    return rfc3339(MS);
  });
};

describe('each of several ledgers', () => {
  it.each([
    [['America/Halifax', 'Europe/Lisbon', 'Asia/Kolkata']],
    [['Asia/Kolkata', 'none', 'America/Halifax', 'none']],
    [['Europe/Lisbon', 'America/Halifax', 'Europe/Lisbon']],
  ])('%j has the time of its own shop, and without a zone that of the computer', async (zones) => {
    const looked = await timesIn(zones);
    expect(looked.map(({ found }) => found)).toEqual(zones.map((zone) => OFFSETS[zone] ?? TOKYO));
    expect(rfc3339(MS)).toBe(TOKYO);
  });

  it('is in the zone of the computer where TZ is not set, after one that has a zone', async () => {
    delete process.env.TZ;
    const own = rfc3339(MS);
    const looked = await timesIn(['Asia/Kolkata', 'none']);
    expect(looked.map(({ found }) => found)).toEqual([OFFSETS['Asia/Kolkata'], own]);
    expect(process.env.TZ).toBeUndefined();
  });

  it('is told apart from one whose zone this computer does not know', async () => {
    const looked = await timesIn(['Europe/Lisbon', 'Mars/Olympus', 'America/Halifax']);
    expect(looked.map(({ found, failure }) => [found, failure])).toEqual([
      [OFFSETS['Europe/Lisbon'], 0],
      [undefined, 78],
      [OFFSETS['America/Halifax'], 0],
    ]);
    expect(looked[1]!.problems[0]!.code).toBe('unknown-timezone');
  });
});
