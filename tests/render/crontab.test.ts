import { spawnSync } from 'node:child_process';
import { Cron } from 'croner';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cronCommand, crontab, type Job, shellWord } from '../../src/render/crontab.ts';
import { CRONS, fieldsOf } from './cron-rules.ts';

const JOB: Job = { what: 'due', hour: 7, minute: 30, workdays: false, words: ['/bin/true'], answersUpTo: 0 };

/** All a path may hold on one line, with what crons and shells look at made frequent. */
const word = fc
  .array(
    fc.oneof(
      fc.constantFrom('\\', '%', "'", '"', '$', '`', ' ', '*', '~', '#', '!', '-', 'é', '浴'),
      fc.string({ unit: 'grapheme', maxLength: 4 }),
    ),
    { maxLength: 12 },
  )
  .map((parts) => parts.join('').replaceAll(/\p{Cc}/gu, ''));

/** The words that a shell hands to a program. */
function shellArgs(command: string): string[] {
  const ran = spawnSync('/bin/sh', ['-c', command], { env: {}, encoding: 'utf8' });
  expect(ran.stderr).toBe('');
  return ran.stdout.split('\0').slice(0, -1);
}

const SHOWN = ['/usr/bin/printf', '%s\\0'];

describe('the words of a command', () => {
  it.each(Object.entries(CRONS))('reach the program through a cron that %s', (_, passed) => {
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 40 }), (words) => {
        const { command, input } = passed(cronCommand({ words: [...SHOWN, ...words], answersUpTo: 3 }));
        expect(input).toBeUndefined();
        expect(shellArgs(command)).toEqual(words);
      }),
      { numRuns: 60 },
    );
  });

  it.each(['\\%', '\\\\', '%%', "\\'%", '\\\\%\\', "'", '%', '\\', ''])('like %s', (text) => {
    for (const passed of Object.values(CRONS)) {
      const { command } = passed(cronCommand({ words: [...SHOWN, text], answersUpTo: 0 }));
      expect(shellArgs(command)).toEqual([text]);
    }
  });

  it('would not, if % were left as it is', () => {
    expect(CRONS['takes the backslash off \\%']!("echo 'a%b'")).toEqual({ command: "echo 'a", input: "b'" });
  });

  it('reach it through a shell without cron', () => {
    fc.assert(
      fc.property(fc.array(word, { minLength: 1, maxLength: 40 }), (words) => {
        expect(shellArgs([...SHOWN, ...words].map((one) => shellWord(one)).join(' '))).toEqual(words);
      }),
      { numRuns: 60 },
    );
  });

  it('stay bare where they can', () => {
    expect(cronCommand({ words: ['/usr/bin/node', '/srv/a-b/main.js', 'due'], answersUpTo: 0 })).toBe(
      '/usr/bin/node /srv/a-b/main.js due',
    );
  });
});

describe('the exit status', () => {
  const statusOf = (code: number, answersUpTo: number) =>
    spawnSync('/bin/sh', ['-c', cronCommand({ words: ['/bin/sh', '-c', `exit ${code}`], answersUpTo })])
      .status;

  it.each([0, 1, 2, 3])('%d, an answer, is 0', (code) => {
    expect(statusOf(code, 3)).toBe(0);
  });

  it.each([4, 64, 65, 70, 127])('%d, a failure, is none of the answers', (code) => {
    expect(statusOf(code, 3)).not.toBe(0);
  });

  it('stays as it is where only 0 is an answer', () => {
    expect([0, 1, 64].map((code) => statusOf(code, 0))).toEqual([0, 1, 64]);
  });
});

describe('the five fields', () => {
  it.each([
    [0, 0],
    [7, 5],
    [23, 59],
  ])('at %d:%d every day', (hour, minute) => {
    const [line] = crontab([{ ...JOB, hour, minute }], undefined);
    expect(fieldsOf(line!)).toMatchObject({
      minutes: [minute],
      hours: [hour],
      days: { length: 31 },
      months: { length: 12 },
      weekdays: [0, 1, 2, 3, 4, 5, 6, 7],
      command: '/bin/true',
    });
  });

  it('on workdays: Monday to Friday', () => {
    const [line] = crontab([{ ...JOB, workdays: true }], undefined);
    expect(fieldsOf(line!).weekdays).toEqual([1, 2, 3, 4, 5]);
  });

  it('are checked by rules that refuse what is wrong', () => {
    for (const line of [
      '60 7 * * * x',
      '0 24 * * * x',
      '0 7 0 * * x',
      '0 7 * * 1-8 x',
      '0 7 * * *',
      '5-1 7 * * * x',
    ])
      expect(() => fieldsOf(line)).toThrow();
  });
});

describe('a crontab', () => {
  it('has a line a job, after the one that says whom to mail', () => {
    expect(crontab([JOB, { ...JOB, hour: 19, answersUpTo: 2 }], 'bench@example.org')).toEqual([
      'MAILTO=bench@example.org',
      '30 7 * * * /bin/true',
      '30 19 * * * /bin/true || [ $? -le 2 ]',
    ]);
  });
});

describe('the times', () => {
  it.each([
    [{ hour: 7, minute: 30, workdays: true }, ['2026-11-20T07:30', '2026-11-23T07:30', '2026-11-24T07:30']],
    [{ hour: 16, minute: 5, workdays: false }, ['2026-11-20T16:05', '2026-11-21T16:05', '2026-11-22T16:05']],
  ])('of %j run when they should, by another reader of crontabs', (when, expected) => {
    const [line] = crontab([{ ...JOB, ...when }], undefined);
    const fields = line!.split(' ').slice(0, 5).join(' ');
    // 2026-11-20 is a Friday.
    const runs = new Cron(fields, { timezone: 'UTC', mode: '5-part' }).nextRuns(3, '2026-11-20T00:00:00');
    expect(runs.map((at) => at.toISOString().slice(0, 16))).toEqual(expected);
  });
});
