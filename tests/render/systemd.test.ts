import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import type { Job } from '../../src/render/crontab.ts';
import { systemdUnits, type Unit } from '../../src/render/systemd.ts';
import { execArgs, readUnit } from './systemd-rules.ts';

const JOB: Job = {
  what: 'due',
  hour: 7,
  minute: 5,
  workdays: true,
  words: ['/bin/true', 'due'],
  answersUpTo: 3,
};
const BENCH = { name: 'Cove Street Bench', zone: 'America/Halifax' };

const folder = mkdtempSync(join(tmpdir(), 'bathbook-units-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
/** The checker that comes with systemd; not everywhere. */
const ANALYZE = 'systemd-analyze';
const hasSystemd = spawnSync(ANALYZE, ['--version']).status === 0;

/** What systemd's own checker says of the units, and of no others of this computer. */
function verify(units: readonly Unit[]): { status: number | null; said: string[] } {
  const paths = units.map(({ file, text }) => {
    writeFileSync(join(folder, file), text);
    return join(folder, file);
  });
  const ran = spawnSync(ANALYZE, ['verify', '--man=no', ...paths], { encoding: 'utf8' });
  return { status: ran.status, said: ran.stderr.split('\n').filter((line) => line.includes('bathbook')) };
}

const word = fc
  .array(
    fc.oneof(
      fc.constantFrom('\\', '%', '%h', "'", '"', '$', '{HOME}', ' ', ';', '#', '!', '@', '-', 'é', '浴'),
      fc.string({ unit: 'grapheme', maxLength: 4 }),
    ),
    { maxLength: 10 },
  )
  .map((parts) => parts.join('').replaceAll(/\p{Cc}/gu, ''));

describe('the service', () => {
  it('gives the program its words, whatever they hold', () => {
    fc.assert(
      fc.property(word, fc.array(word), (program, words) => {
        const all = [`/${program}`, ...words];
        const { Service } = readUnit(systemdUnits({ ...JOB, words: all }, BENCH)[0].text);
        expect(execArgs(Service!.ExecStart![0]!)).toEqual(all);
      }),
    );
  });

  it('holds its lines apart, whatever the shop is called', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), word, (one, two) => {
        for (const name of [one, two, `${two}\\`, `x\n[Service]\nExecStart=/bin/false`]) {
          const [service, timer] = systemdUnits(JOB, { ...BENCH, name });
          expect(Object.keys(readUnit(service.text))).toEqual(['Unit', 'Service']);
          expect(readUnit(service.text).Service!.ExecStart).toEqual(['/bin/true due']);
          expect(readUnit(service.text).Unit!.Description).toHaveLength(1);
          expect(Object.keys(readUnit(timer.text))).toEqual(['Unit', 'Timer', 'Install']);
          // systemd.unit(5): these may stand in a name; none of ours begins with a dash.
          expect(service.file).toMatch(/^bathbook-due(?:-[a-z0-9]+)*\.service$/);
          expect(timer.file).toBe(service.file.replace(/service$/, 'timer'));
          expect(service.file.length).toBeLessThan(256);
        }
      }),
    );
  });

  it('shows the name of the shop as it is: a doubled % is one, systemd.unit(5)', () => {
    const description = (name: string) =>
      readUnit(systemdUnits(JOB, { ...BENCH, name })[0].text).Unit!.Description![0]!;
    expect(description('100 % %h \\')).toBe('Baths of 100 %% %%h \\: what is due');
  });

  it('counts the answers as success and nothing else', () => {
    expect(readUnit(systemdUnits(JOB, BENCH)[0].text).Service).toMatchObject({
      Type: ['oneshot'],
      SuccessExitStatus: ['1 2 3'],
    });
    const plain = readUnit(systemdUnits({ ...JOB, answersUpTo: 0 }, BENCH)[0].text);
    expect(plain.Service).not.toHaveProperty('SuccessExitStatus');
  });

  it('needs no namespace, and leaves Node its compiler', () => {
    const keys = Object.keys(readUnit(systemdUnits(JOB, BENCH)[0].text).Service!);
    // systemd.exec(5): for a user's manager these imply PrivateUsers=, which a computer may not allow.
    expect(
      keys.filter((key) =>
        /^(?:Private|Protect|ReadOnly|ReadWrite|Inaccessible|Bind|Root|DynamicUser)/.test(key),
      ),
    ).toEqual([]);
    expect(keys).not.toContain('MemoryDenyWriteExecute');
    expect(keys).toContain('NoNewPrivileges');
  });

  it('has another name, and says so, for the report; what it writes can be read by others where it is to be', () => {
    const report: Job = { ...JOB, what: 'report', answersUpTo: 0 };
    const [service, timer] = systemdUnits(report, BENCH);
    expect([service.file, timer.file]).toEqual([
      'bathbook-report-cove-street-bench.service',
      'bathbook-report-cove-street-bench.timer',
    ]);
    expect(readUnit(service.text).Unit!.Description).toEqual([
      'Baths of Cove Street Bench: the nightly report',
    ]);
    const umask = (job: Job) => readUnit(systemdUnits(job, BENCH)[0].text).Service!.UMask;
    expect([umask(report), umask({ ...report, isShared: true }), umask(JOB)]).toEqual([
      ['0077'],
      ['0022'],
      ['0077'],
    ]);
  });

  it('has another name for another shop', () => {
    const name = (shop: string) => systemdUnits(JOB, { ...BENCH, name: shop })[0].file;
    expect(name('Café № 2')).toBe('bathbook-due-cafe-no-2.service');
    expect(name('Bench A')).not.toBe(name('Bench B'));
    expect(name('')).toBe('bathbook-due.service');
  });
});

describe('the timer', () => {
  const calendarOf = (job: Partial<Job>, zone?: string) =>
    readUnit(systemdUnits({ ...JOB, ...job }, { ...BENCH, zone })[1].text).Timer!.OnCalendar![0]!;

  it('makes up for a missed run, and starts with the other timers', () => {
    const unit = readUnit(systemdUnits(JOB, BENCH)[1].text);
    expect(unit).toMatchObject({ Timer: { Persistent: ['true'] }, Install: { WantedBy: ['timers.target'] } });
  });

  // 2026-11-27 is a Friday, in Halifax four hours behind UTC.
  it.runIf(hasSystemd).each([
    [{ workdays: true }, 'America/Halifax', ['Fri 2026-11-27 11:05', 'Mon 2026-11-30 11:05']],
    [
      { workdays: false, hour: 23, minute: 59 },
      'America/Halifax',
      ['Sat 2026-11-28 03:59', 'Sun 2026-11-29 03:59'],
    ],
    [{ workdays: false, hour: 0, minute: 0 }, undefined, ['Sat 2026-11-28 00:00', 'Sun 2026-11-29 00:00']],
  ])('runs when it should by the reckoning of systemd: %j in %s', (job, zone, times) => {
    const args = ['calendar', '--base-time=2026-11-27 06:00:00 UTC', '--iterations=2', calendarOf(job, zone)];
    const { stdout } = spawnSync(ANALYZE, args, {
      env: { ...process.env, TZ: 'UTC' },
      encoding: 'utf8',
    });
    expect(
      [...stdout.matchAll(/(?:elapse|#2): (\w+ \S+ \d\d:\d\d):00 UTC/g)].map(([, time]) => time),
    ).toEqual(times);
  });
});

describe.runIf(hasSystemd)('systemd-analyze verify', () => {
  it('has nothing to say of the units, odd names and words included', () => {
    const odd = ['/bin/true', 'a b', `it's "so"`, '100%', '$HOME', 'C:\\x', 'é浴', ''];
    const report: Job = { ...JOB, what: 'report', answersUpTo: 0, isShared: true };
    const both = [...systemdUnits(JOB, BENCH), ...systemdUnits(report, BENCH)];
    expect(verify(both)).toEqual({ status: 0, said: [] });
    for (const name of [BENCH.name, '', '50% "off"\\'])
      expect(verify(systemdUnits({ ...JOB, words: odd }, { ...BENCH, name }))).toEqual({
        status: 0,
        said: [],
      });
  });

  it('would say something of broken ones', () => {
    const [service, timer] = systemdUnits(JOB, { ...BENCH, zone: 'Mars/Base' });
    expect(verify([service, timer]).said.join()).toContain('calendar');
    const gone = systemdUnits({ ...JOB, words: ['/nowhere/node'] }, { ...BENCH, name: 'gone' });
    expect(verify(gone).said.join()).toContain('/nowhere/node');
    const spelt = { ...service, text: service.text.replace('LockPersonality', 'LockPersonalty') };
    expect(verify([spelt]).said.join()).toContain('LockPersonalty');
  });
});
