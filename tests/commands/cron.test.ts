/** What `cron` prints, run as cron and systemd would run it: on ledgers with odd paths, in an empty environment, from /. */
import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { cronCommand } from '../../src/render/crontab.ts';
import { documentSchema } from '../../src/render/schemas.ts';
import { CRONS, fieldsOf } from '../render/cron-rules.ts';
import { execArgs, readUnit } from '../render/systemd-rules.ts';
import { bundled, HEAD, ledgerOf, runner, tempFolder } from './bundle.ts';

/** The program stands in a folder with an odd name as well. */
const dist = join(tempFolder(), "d'ist 5% \\% \\\\ $HOME é");
cpSync(dirname(bundled()), dist, { recursive: true });
const main = join(dist, 'main.js');
const run = runner(main);
const state = tempFolder();

/** Both baths as filled a hundred days ago: older than any default age limit, so that something is due whatever the day. */
const OLD = ['dirty', 'clean'].map(
  (bath) =>
    `  - {id: "fill-${bath}", at: ${new Date(Date.now() - 100 * 86_400_000).toISOString().slice(0, 19)}+00:00, what: fill, bath: ${bath}, solvent: ipa99, ml: 4000}`,
);

/** A ledger in a folder of this name. */
function ledgerIn(name: string, lines = OLD): string {
  const folder = join(tempFolder(), name);
  mkdirSync(folder);
  const path = join(folder, 'bathbook.yaml');
  writeFileSync(path, HEAD + lines.map((line) => `${line}\n`).join(''));
  return path;
}

/** As cron does it, but for the state folder, which is the tests' own. */
function asCron(command: string) {
  const env = `XDG_STATE_HOME=${state}`;
  const ran = spawnSync('/usr/bin/env', ['-i', env, '/bin/sh', '-c', command], {
    cwd: '/',
    encoding: 'utf8',
  });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}

/** The command of the line that reminds or reports, as the shell gets it from this cron. */
function commandOf(
  out: string,
  passed = CRONS['takes the backslash off \\%']!,
  what: 'due' | 'report' = 'due',
): string {
  const lines = out.split('\n');
  expect(lines.pop()).toBe('');
  const commands = lines
    .filter((line) => !line.startsWith('MAILTO='))
    .map((line) => passed(fieldsOf(line).command));
  for (const { input } of commands) expect(input).toBeUndefined();
  // The verb is the word after the program, which ends in main.js, quoted or not.
  const own = commands.filter(({ command }) => new RegExp(`main\\.js'? ${what} `).test(command));
  expect(own).toHaveLength(1);
  return own[0]!.command;
}

const ODD = [
  'plain',
  'two words',
  "it's",
  '"so"',
  '100% \\% %%',
  '\\\\ \\',
  '$HOME `id` $(id)',
  'Bäder 浴 🧴',
  ';#&|<>*?~!',
];

describe('the lines of a crontab', () => {
  it.each(ODD)(
    'runs on a ledger in a folder like %s, through every cron, and says each thing once a day',
    (name) => {
      const ledger = ledgerIn(name);
      const { code, out } = run(['cron', '--ledger', ledger]);
      expect(code).toBe(0);
      const commands = Object.values(CRONS).map((passed) => commandOf(out, passed));
      const [first, ...later] = commands.map(asCron);
      expect(first).toMatchObject({ code: 0, err: '' });
      expect(first!.out).toContain(`ledger: ${ledger}\n`);
      expect(first!.out).toContain('100 days old');
      expect(later).toEqual(later.map(() => ({ code: 0, out: '', err: '' })));
    },
  );

  it('needs nothing at all in the environment', () => {
    const ledger = ledgerIn('bare');
    const command = commandOf(run(['cron', '--ledger', ledger]).out);
    // Another verb, which keeps no state: this run has no state folder of the tests' own.
    const words = [process.execPath, main, 'baths', '--exit-code', '--ledger', ledger];
    const { command: bare } = CRONS['takes the backslash off \\%']!(cronCommand({ words, answersUpTo: 3 }));
    expect(bare.replace('baths --exit-code', 'due --once-a-day')).toBe(command);
    const ran = spawnSync('/usr/bin/env', ['-i', '/bin/sh', '-c', bare], { cwd: '/', encoding: 'utf8' });
    expect(ran.status).toBe(0);
    expect(ran.stdout).toMatch(/^dirty\t/m);
  });

  it.each(ODD)('report each night on a ledger in a folder like %s, through every cron', (name) => {
    const ledger = ledgerIn(name);
    const { out } = run(['cron', '--ledger', ledger]);
    for (const passed of Object.values(CRONS)) {
      const ran = asCron(commandOf(out, passed, 'report'));
      expect({ code: ran.code, err: ran.err }).toEqual({ code: 0, err: '' });
      expect(ran.out).toMatch(/^Cove Street Bench, report of /);
      expect(ran.out).toContain('100 of 28');
      expect(ran.out.endsWith(`\nledger: ${ledger}\n`)).toBe(true);
    }
  });

  it('report from where the last report ended', () => {
    const command = commandOf(run(['cron', '--ledger', ledgerIn('again')]).out, undefined, 'report');
    expect(asCron(command).out).toContain('there is no earlier report');
    expect(asCron(command).out).toContain('Since the last report');
    const bare = spawnSync('/usr/bin/env', ['-i', '/bin/sh', '-c', command], { cwd: '/', encoding: 'utf8' });
    expect({ code: bare.status, err: bare.stderr }).toEqual({ code: 0, err: '' });
    expect(bare.stdout).toContain('there is no folder to keep');
  });

  it('write the report into a file and print nothing, where one is named', () => {
    const ledger = ledgerIn('page');
    const folder = tempFolder();
    const { out } = run(['cron', '--out', "the night's page.md", '--ledger', ledger], { cwd: folder });
    const ran = asCron(commandOf(out, undefined, 'report'));
    expect(ran).toEqual({ code: 0, out: '', err: '' });
    expect(readFileSync(join(folder, "the night's page.md"), 'utf8')).toMatch(
      /^# Cove Street Bench, report of /,
    );
  });

  it('are those that are not off', () => {
    const ledger = ledgerOf();
    const verbs = (...args: string[]) =>
      run(['cron', ...args, '--ledger', ledger]).out.match(/main\.js'? (due|report) /g)?.length;
    expect([verbs(), verbs('--report', 'off'), verbs('--remind', 'OFF')]).toEqual([2, 1, 1]);
    const { out } = run(['cron', '--systemd', '--remind', 'off', '--ledger', ledger]);
    expect(out).toContain('bathbook-report-cove-street-bench.timer');
    expect(out).not.toContain('bathbook-due');
  });

  it('is silent where nothing is due', () => {
    const fresh = OLD.map((line) =>
      line.replace(/at: \S+,/, `at: ${new Date().toISOString().slice(0, 19)}+00:00,`),
    );
    const { out } = run(['cron', '--ledger', ledgerIn('fresh', fresh)]);
    expect(asCron(commandOf(out))).toEqual({ code: 0, out: '', err: '' });
  });

  it('fails aloud when the ledger is gone, or the baths cannot be judged', () => {
    const ledger = ledgerIn('gone');
    const command = commandOf(run(['cron', '--ledger', ledger]).out);
    renameSync(ledger, `${ledger}.old`);
    const gone = asCron(command);
    expect(gone.code).not.toBe(0);
    expect(gone.err).toContain('Cannot read');
    const empty = asCron(commandOf(run(['cron', '--ledger', ledgerIn('empty', [])]).out));
    expect(empty.err).toContain('Could not judge');
  });

  it('names real, absolute paths, wherever it was called and by whatever name', () => {
    const ledger = ledgerIn('real');
    const link = join(tempFolder(), 'linked');
    symlinkSync(join(ledger, '..'), link);
    const here = run(['cron'], { cwd: link });
    expect(asCron(commandOf(here.out)).out).toContain(`ledger: ${ledger}\n`);
    expect(run(['cron', '--ledger', './bathbook.yaml'], { cwd: link }).out).toBe(here.out);
    expect(run(['cron', '--ledger', join(link, 'bathbook.yaml')]).out).toBe(here.out);
    expect(run(['cron'], { env: { BATHBOOK_LEDGER: ledger } }).out).toBe(here.out);
  });

  it('comes at the time asked for', () => {
    const ledger = ledgerOf();
    const fields = (...args: string[]) =>
      fieldsOf(run(['cron', ...args, '--ledger', ledger]).out.split('\n')[0]!);
    const report = (...args: string[]) => fields('--remind', 'off', ...args);
    expect(report()).toMatchObject({ hours: [18], minutes: [30], weekdays: { length: 8 } });
    expect(report('--report', '5:05', '--workdays')).toMatchObject({
      hours: [5],
      minutes: [5],
      weekdays: [1, 2, 3, 4, 5],
    });
    expect(fields()).toMatchObject({ hours: [7], minutes: [30], weekdays: { length: 8 } });
    expect(fields('--remind', '0:00')).toMatchObject({ hours: [0], minutes: [0] });
    expect(fields('--remind', '23:59', '--workdays')).toMatchObject({
      hours: [23],
      minutes: [59],
      weekdays: [1, 2, 3, 4, 5],
    });
  });

  it('comes with MAILTO above it when mail is asked for', () => {
    const { out } = run(['cron', '--mail', 'bench+due@example.org', '--ledger', ledgerOf()]);
    expect(out.split('\n')[0]).toBe('MAILTO=bench+due@example.org');
    expect(out.split('\n')).toHaveLength(4);
  });
});

describe('beside the answer', () => {
  const ledger = ledgerOf();

  it('says how to install, and for which ledger', () => {
    const { out, err } = run(['cron', '--ledger', ledger]);
    expect(out.split('\n')).toHaveLength(3);
    expect(err).toContain('crontab -e');
    expect(err).toContain(ledger);
    expect(run(['cron', '--ledger', ledger, '--quiet'])).toEqual({ code: 0, out, err: '' });
  });

  it("says whose clock it is, when the shop's is another", () => {
    const told = (TZ: string, ...args: string[]) =>
      run(['cron', ...args, '--ledger', ledger], { env: { TZ } }).err;
    expect(told('Europe/Lisbon')).toContain('this computer (Europe/Lisbon); the shop is in America/Halifax');
    expect(told('Europe/Lisbon', '--report', 'off')).toContain(
      'The time is that of this computer (Europe/Lisbon)',
    );
    expect(told('America/Halifax')).not.toContain('this computer (');
    expect(told('Europe/Lisbon', '--systemd')).not.toContain('this computer (');
  });
});

describe('the units of systemd', () => {
  it.each(ODD)('run on a ledger in a folder like %s', (name) => {
    const ledger = ledgerIn(name);
    const { data } = JSON.parse(run(['cron', '--systemd', '--json', '--ledger', ledger]).out);
    const services = data.units.filter(({ file }: { file: string }) => file.endsWith('.service'));
    const [due, report] = services.map(({ text }: { text: string }) => {
      const { ExecStart, SuccessExitStatus } = readUnit(text).Service!;
      const [program, ...args] = execArgs(ExecStart![0]!);
      const env = { XDG_STATE_HOME: tempFolder() };
      const ran = spawnSync(program!, args, { cwd: '/', env, encoding: 'utf8' });
      expect(ran.stdout).toContain(`ledger: ${ledger}\n`);
      return { status: String(ran.status), answers: SuccessExitStatus?.[0]?.split(' ') };
    });
    expect(due.answers).toContain(due.status);
    expect(report).toEqual({ status: '0', answers: undefined });
  });

  it.each(ODD)(
    'are stored by the first of the two commands they begin with, for a folder like %s',
    (name) => {
      const ledger = ledgerIn(name);
      const given = ['cron', '--systemd', '--remind', '16:45', '--workdays', '--ledger', ledger];
      const { out, err } = run(given);
      const [store, start] = out.split('\n').map((line) => line.replace(/^# +/, ''));
      const home = join(tempFolder(), 'ho me');
      const ran = spawnSync('/bin/sh', ['-c', store!], {
        env: { HOME: home, PATH: process.env.PATH },
        encoding: 'utf8',
      });
      expect(ran).toMatchObject({ status: 0, stdout: '', stderr: '' });
      const folder = join(home, '.config/systemd/user');
      const { units } = JSON.parse(run([...given, '--json']).out).data;
      expect(readdirSync(folder).sort()).toEqual(units.map(({ file }: { file: string }) => file).sort());
      for (const { file, text } of units) {
        expect(readFileSync(join(folder, file), 'utf8').trimEnd()).toBe(`# ${file}\n${text}`.trimEnd());
      }
      expect(start).toContain(
        'enable --now bathbook-due-cove-street-bench.timer bathbook-report-cove-street-bench.timer',
      );
      expect(units).toHaveLength(4);
      expect(readUnit(units[1].text).Timer!.OnCalendar).toEqual(['Mon..Fri *-*-* 16:45:00 America/Halifax']);
      expect(err).toContain('journalctl --user -u bathbook-due-cove-street-bench.service');
    },
  );
});

describe('what cannot be', () => {
  const ledger = ledgerOf();

  it.each([
    [['--remind', '24:00'], '00:00 to 23:59'],
    [['--remind', '07:60'], '00:00 to 23:59'],
    [['--remind', '7.30'], '00:00 to 23:59'],
    [['--remind', '-1:00'], '00:00 to 23:59'],
    [['--remind', '07:30:00'], '00:00 to 23:59'],
    [['--mail', 'bench@example.org\nroot'], 'letters, digits'],
    [['--mail', 'a b'], 'letters, digits'],
    [['--mail', ''], 'letters, digits'],
    [['--mail', '-oQ/tmp'], 'letters, digits'],
    [['--mail', 'bench@example.org', '--systemd'], 'leave out --systemd'],
    [['--report', '24:00'], '00:00 to 23:59'],
    [['--report', 'off', '--remind', 'off'], 'Leave out --remind off'],
    [['--report', 'off', '--out', 'x.md'], 'Leave out --out'],
    [['--out', 'two\nlines'], 'two\\nlines'],
  ])('is refused: %j', (args, why) => {
    const { code, out, err } = run(['cron', ...args, '--ledger', ledger]);
    expect(code).toBe(64);
    expect(out).toBe('');
    expect(err).toContain(why);
  });

  it('is refused: a path that would take two lines, or that cron would cut', () => {
    for (const kind of [[], ['--systemd']]) {
      const two = run(['cron', ...kind, '--ledger', ledgerIn('two\nlines')]);
      expect(two).toMatchObject({ code: 64, out: '' });
      expect(two.err).toContain('two\\nlines');
    }
    const deep = ledgerIn('x');
    const parts = ['a', 'b', 'c', 'd'].map((letter) => letter.repeat(240));
    const folder = join(deep, '..', ...parts);
    mkdirSync(folder, { recursive: true });
    const long = join(folder, 'bathbook.yaml');
    renameSync(deep, long);
    expect(run(['cron', '--ledger', long])).toMatchObject({ code: 64, out: '' });
    expect(run(['cron', '--systemd', '--ledger', long]).code).toBe(0);
  });

  it('is no reminder of a ledger that is not there or not sound', () => {
    const nowhere = join(tempFolder(), 'nowhere.yaml');
    expect(run(['cron', '--ledger', nowhere])).toMatchObject({ code: 66, out: '' });
    expect(existsSync(nowhere)).toBe(false);
    expect(run(['cron', '--ledger', ledgerOf(['  - {id: "x", at: yesterday, what: wsh}'])])).toMatchObject({
      code: 65,
      out: '',
    });
  });
});

describe('the document', () => {
  it.each([[[]], [['--systemd']], [['--mail', 'bench', '--workdays']], [['--remind', 'off']]])(
    'with %j fits its schema',
    (args) => {
      const ajv = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false, allErrors: true });
      (addFormats as unknown as (ajv: Ajv2020) => void)(ajv);
      const { out, err } = run(['cron', ...args, '--json', '--ledger', ledgerOf()]);
      const document = JSON.parse(out);
      const schema = documentSchema('cron')!;
      expect(ajv.validate(schema, document)).toBe(true);
      expect(Object.keys(document.data)).toEqual([
        'ledger',
        'remind',
        'report',
        'workdays',
        'lines',
        'units',
        'install',
      ]);
      expect(document.data.lines.length > 0).toBe(document.data.units.length === 0);
      expect(err).toBe('');
    },
  );
});
