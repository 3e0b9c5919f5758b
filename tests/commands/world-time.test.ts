/** Zones, clocks that are wrong, days that some years have not: times as an independent zone database tells them, and no nonsense. */
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled, HEAD, LINES, ledgerOf, runner, tempFolder } from './bundle.ts';

const main = bundled();
const run = runner(main);
const headIn = (zone: string) => HEAD.replace(/timezone: .*/, `timezone: ${zone}`);
/** Anything but the zone of the shop. */
const ELSEWHERE = { TZ: 'Asia/Kathmandu' };

/** Python's zoneinfo, which reads the zone database of the system where Node has its own. */
const LOCAL = `
import sys, json
from datetime import datetime
from zoneinfo import ZoneInfo
zones, times = json.load(sys.stdin)
print(json.dumps({zone: [datetime.fromisoformat(at.replace('Z', '+00:00')).astimezone(ZoneInfo(zone)).isoformat() for at in times] for zone in zones}))
`;
/** The hour and, on Lord Howe, half hour of change in 2026, by the zone database: halves of it lie on both sides. */
const CHANGES = [
  '2026-03-08T06:00:00Z',
  '2026-11-01T05:00:00Z',
  '2026-03-29T01:00:00Z',
  '2026-10-25T01:00:00Z',
  '2026-04-04T15:00:00Z',
  '2026-10-03T15:30:00Z',
];
const ZONES = ['America/Halifax', 'Europe/Berlin', 'Australia/Lord_Howe', 'America/St_Johns'];
const TIMES = CHANGES.flatMap((change) =>
  [-3600, -1800, -1, 0, 1799, 1800, 3600].map((seconds) =>
    new Date(Date.parse(change) + 1000 * seconds).toISOString().replace('.000', ''),
  ),
).sort();
const told = spawnSync('python3', ['-c', LOCAL], { input: JSON.stringify([ZONES, TIMES]), encoding: 'utf8' });

describe.skipIf(told.status !== 0)('the times of a ledger, by the zone database of Python', () => {
  const local = JSON.parse(told.stdout || 'null') as Record<string, string[]>;
  const looks = TIMES.map((at, nth) => `  - {id: "look${nth}", at: ${at}, what: inspect, result: ok}`);

  it.each(ZONES)('%s', (zone) => {
    const ledger = ledgerOf(looks, headIn(zone));
    const { out } = run(['entries', '--ledger', ledger, '--as-of', '2026-12-01'], { env: ELSEWHERE });
    const shown = out
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((row) => row.split('\t')[1]);
    expect(shown).toEqual(local[zone]!.map((at) => at.slice(0, 16).replace('T', ' ')));
    // Both sides of a change, with the offset: what is written must be the moment that was typed.
    const typed = local[zone]!.filter((at, nth, all) =>
      [all[nth - 1], all[nth + 1]].some((beside) => beside && beside.slice(-6) !== at.slice(-6)),
    );
    expect(typed.length).toBeGreaterThan(3);
    for (const at of typed) {
      const args = [
        'inspect',
        'ok',
        '--wash',
        'none',
        '--at',
        at,
        '--ledger',
        ledger,
        '--as-of',
        '2026-12-01',
        '--dry-run',
        '--json',
      ];
      const { event } = JSON.parse(run(args, { env: ELSEWHERE }).out).data;
      expect(event.at).toBe(at);
    }
  });
});

const EDGES = [
  '  - {id: "e1", at: 2000-01-01T00:00:00+14:00, what: fill, bath: dirty, solvent: ipa99, ml: 4000}',
  '  - {id: "e2", at: 2000-02-29T23:59:59-12:00, what: fill, bath: clean, solvent: ipa99, ml: 4000}',
  '  - {id: "e3", at: 2000-03-03T23:59:59+14:00, what: wash, parts: {model: 2}}',
  '  - {id: "e4", at: 2199-12-31T23:59:59-12:00, what: refill, bath: clean, solvent: ipa99, ml: 4000}',
];
const LOOKS = [
  ['baths', '--json'],
  ['entries', '--states'],
  ['due'],
  ['outlook', '--per-day', '3'],
  ['report'],
  ['report', '--format', 'html', '--from', '2000-01-01'],
  ['export', 'ics'],
  ['export', 'csv', '--what', 'washes'],
  ['export', 'openmetrics'],
  ['check'],
];
/** A hang, not a slow machine: each is done within a second. */
const HANGS_MS = 60_000;

describe('the first and the last years of a ledger', () => {
  it.each([
    ['2000-01-01', 'Pacific/Kiritimati'],
    ['2199-12-31', 'Australia/Lord_Howe'],
  ])('seen on %s in %s: no nonsense, and an answer soon', (asOf, zone) => {
    const ledger = ledgerOf(EDGES, headIn(zone));
    for (const args of LOOKS) {
      const ran = spawnSync(process.execPath, [main, ...args, '--ledger', ledger, '--as-of', asOf], {
        env: ELSEWHERE,
        encoding: 'utf8',
        timeout: HANGS_MS,
      });
      const said = `${args.join(' ')}: ${ran.stdout}${ran.stderr}`;
      expect(ran.signal, said).toBe(null);
      expect([0, 1, 2, 3, 64, 65], said).toContain(ran.status);
      expect(said).not.toMatch(/NaN|Infinity|Invalid|undefined|fault of its own/);
    }
  });

  it('end where no line of a ledger may go on, and what no calendar has is told', () => {
    const notIn = (at: string) => {
      const ledger = ledgerOf([...LINES, `  - {id: "odd1", at: ${at}, what: inspect, result: ok}`]);
      const { code, out, err } = run(['check', '--ledger', ledger]);
      return { at, code, told: /^.*(?:Cannot|Event).*$/m.exec(out + err)?.[0] ?? '' };
    };
    for (const at of [
      '1999-12-31T23:59:59+00:00',
      '2200-01-01T00:00:00+00:00',
      '9999-12-31T23:59:59Z',
      '0001-01-01T00:00:00Z',
      '2027-02-29T12:00:00Z',
      '2016-12-31T23:59:60Z',
      '2026-11-20T24:00:00Z',
      '2026-11-20T12:00:00+14:01',
    ])
      expect(notIn(at)).toEqual({ at, code: 65, told: expect.stringMatching(/\S/) });
  });
});

describe('a computer whose clock is wrong', () => {
  const preload = join(tempFolder(), 'clock.cjs');
  writeFileSync(
    preload,
    `const Real = Date;
    const aheadMs = Real.parse(process.env.CLOCK) - Real.now();
    globalThis.Date = class extends Real {
      constructor(...given) { super(...(given.length === 0 ? [Real.now() + aheadMs] : given)); }
      static now() { return Real.now() + aheadMs; }
    };`,
  );
  const at = (clock: string, args: string[]) => {
    const options = { env: { CLOCK: clock }, encoding: 'utf8' as const };
    const ran = spawnSync(process.execPath, ['--require', preload, main, ...args], options);
    return { code: ran.status, out: ran.stdout, err: ran.stderr };
  };

  it('since it was never set is told so, and nothing is written', () => {
    const ledger = ledgerOf();
    const before = readFileSync(ledger);
    for (const [clock, year] of [
      ['1970-01-01T12:00:00Z', '1970'],
      ['+012345-01-01T12:00:00Z', '12345'],
    ]) {
      for (const args of [['wash', '1', 'model'], ['baths'], ['undo']]) {
        const { code, err } = at(clock!, [...args, '--ledger', ledger]);
        expect(err).toContain(`Cannot go by the clock of this computer, it says ${year}-01-01`);
        expect(code).toBe(78);
      }
    }
    expect(at('1970-01-01T12:00:00Z', ['baths', '--ledger', ledger, '--as-of', '2026-11-20']).code).toBe(0);
    expect(readFileSync(ledger)).toEqual(before);
    const other = join(tempFolder(), 'bathbook.yaml');
    expect(at('1970-01-01T12:00:00Z', ['setup', '--no-input', '--json', '--ledger', other]).code).toBe(78);
    expect(existsSync(other)).toBe(false);
  });

  it('and runs backwards between two entries is told so; both are kept as the clock was, and count in the order of time', () => {
    const ledger = ledgerOf();
    expect(at('2026-11-20T17:00:00Z', ['wash', '1', 'model', '--ledger', ledger]).code).toBe(0);
    const back = at('2026-11-20T16:00:00Z', ['wash', '2', 'mask', '--ledger', ledger]);
    expect(back.code).toBe(0);
    expect(back.err).toContain('look at the clock of the computer');
    const [before, last] = readFileSync(ledger, 'utf8').trimEnd().split('\n').slice(-2);
    expect(before).toContain('at: 2026-11-20T13:00:00-04:00, what: wash, parts: {model: 1}');
    expect(last).toContain('at: 2026-11-20T12:00:00-04:00, what: wash, parts: {mask: 2}');
    expect(run(['check', '--ledger', ledger]).code).toBe(0);
    const { out } = run(['entries', '--last', '2', '--ledger', ledger, '--as-of', '2026-11-21']);
    expect(out.indexOf('2 mask')).toBeLessThan(out.indexOf('1 model'));
  });
});
