import { realpathSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Shop } from '../bath/shop.ts';
import { crontab, type Job } from '../render/crontab.ts';
import { installation, systemdText, systemdUnits, type Unit } from '../render/systemd.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT, usage } from './fault.ts';

/** `due` answers with 0 to 3. */
const DUE_ANSWERS_UP_TO = 3;

/** What cron 3.0 keeps of a command, and drops the rest without a word (from memory); later ones keep more. */
const MOST_BYTES = 998;

interface Answer {
  /** What is printed, made of lines of a crontab or of units. */
  text: string;
  lines: string[];
  units: Unit[];
  install: string[];
  hint: string;
}

/** `cron`: prints what runs the reminder and the nightly report by the clock, and how to install it. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const times = timesOf(options);
  const mailTo = mailOption(options);
  const computerZone = new Intl.DateTimeFormat().resolvedOptions().timeZone;
  const { path, shop, clockMs } = await context.open();
  const ledger = held(realpathSync(path), 'the ledger');
  const program = [held(process.execPath, 'Node'), held(realpathSync(process.argv[1]!), 'the program')];
  const workdays = options.workdays === true;
  const jobs = jobsOf({ times, workdays, program, ledger, page: pageOption(options) });
  const again = [...program, 'cron', '--systemd', '--quiet', ...givenAgain(options), '--ledger', ledger];
  const answer = options.systemd ? forSystemd(jobs, shop, again) : forCron(jobs, mailTo);
  if (context.json) {
    const { lines, units, install } = answer;
    const at = (time: Time | null) => time && clock(time);
    const [remind, report] = [at(times.due), at(times.report)];
    context.printJson('cron', clockMs, { ledger, remind, report, workdays, lines, units, install });
    return EXIT.done;
  }
  context.print(answer.text);
  context.note(`\n${plan(jobs, workdays)} for ${ledger}`);
  if (!options.systemd && shop.zone !== undefined && shop.zone !== computerZone)
    context.note(
      `${jobs.length > 1 ? 'These are times' : 'The time is that'} of this computer (${computerZone}); the shop is in ${shop.zone}`,
    );
  context.note(answer.hint);
  return EXIT.done;
}

type Times = Record<Job['what'], Time | null>;

/** @throws Fault, usage, when nothing is left to run */
function timesOf({ remind = '07:30', report = '18:30', out }: Options): Times {
  const times = { due: timeOf(String(remind), '--remind'), report: timeOf(String(report), '--report') };
  if (!times.due && !times.report)
    throw usage(
      'Cannot run nothing by the clock, both times are off',
      'leave out --remind off or --report off',
    );
  if (out !== undefined && !times.report)
    throw usage('Cannot write a report that is off', 'leave out --out, or --report off');
  return times;
}

function jobsOf(on: {
  times: Times;
  workdays: boolean;
  program: string[];
  ledger: string;
  page: string | undefined;
}): Job[] {
  const { times, workdays, program, ledger, page } = on;
  const { due, report } = times;
  const own = ['--ledger', ledger];
  // A report that goes to a file has nothing to say by mail while all is well.
  const out = page === undefined ? [] : ['--quiet', '--out', page];
  const job = (what: Job['what'], time: Time, words: string[], answersUpTo: number): Job => ({
    what,
    ...time,
    workdays,
    words: [...program, what, ...words, ...own],
    answersUpTo,
  });
  return [
    ...(due ? [job('due', due, ['--once-a-day'], DUE_ANSWERS_UP_TO)] : []),
    ...(report ? [{ ...job('report', report, out, 0), isShared: page !== undefined }] : []),
  ];
}

/** Where the report is written, from any folder. */
function pageOption({ out }: Options): string | undefined {
  return typeof out === 'string' ? held(resolve(out), 'the report') : undefined;
}

function plan(jobs: readonly Job[], workdays: boolean): string {
  const names: Record<Job['what'], string> = { due: 'reminder', report: 'report' };
  const text = jobs.map((job) => `${names[job.what]} at ${clock(job)}`).join(' and ');
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}, ${workdays ? 'Monday to Friday' : 'every day'},`;
}

function forCron(jobs: readonly Job[], mailTo: string | undefined): Answer {
  const lines = fitting(crontab(jobs, mailTo));
  const all = ['the line', 'both lines', 'the three lines'][lines.length - 1];
  const add = mailTo === undefined ? all : `${all} at the end: MAILTO holds for every line below it`;
  const hint = `To install: crontab -e, and add ${add}\nCron mails what is printed, where this computer can send mail`;
  return { text: lines.join('\n'), lines, units: [], install: ['crontab -e'], hint };
}

function forSystemd(
  jobs: readonly Job[],
  shop: Pick<Shop, 'name' | 'zone'>,
  again: readonly string[],
): Answer {
  const units = jobs.flatMap((job) => systemdUnits(job, shop));
  const services = units.map(({ file }) => file).filter((file) => file.endsWith('.service'));
  const hint = [
    'To install: the two commands at the top',
    `What they said: journalctl --user ${services.map((file) => `-u ${file}`).join(' ')}`,
    'They run while you are logged in; for always: loginctl enable-linger',
  ].join('\n');
  return { text: systemdText(units, again), lines: [], units, install: installation(units, again), hint };
}

/** The options, as they were given, for the same answer another time. */
function givenAgain(options: Options): string[] {
  const { remind, report, workdays } = options;
  const page = pageOption(options);
  return [
    ...(typeof remind === 'string' ? ['--remind', remind] : []),
    ...(typeof report === 'string' ? ['--report', report] : []),
    ...(page === undefined ? [] : ['--out', page]),
    ...(workdays ? ['--workdays'] : []),
  ];
}

type Time = Pick<Job, 'hour' | 'minute'>;

/** A time of day; null for off. @throws Fault, usage */
function timeOf(text: string, option: string): Time | null {
  if (text.trim().toLowerCase() === 'off') return null;
  const [, hours, minutes] = /^(\d{1,2}):(\d{2})$/.exec(text.trim()) ?? [];
  const time = { hour: Number(hours), minute: Number(minutes) };
  if (time.hour <= 23 && time.minute <= 59) return time;
  throw usage(
    `Cannot use ${option} "${text}"`,
    `give a time from 00:00 to 23:59, like ${option} 07:30, or off`,
  );
}

function clock({ hour, minute }: Time): string {
  return [hour, minute].map((part) => String(part).padStart(2, '0')).join(':');
}

/** Cron refuses other signs, and then mails nobody. @throws Fault, usage */
function mailOption({ mail, systemd }: Options): string | undefined {
  if (typeof mail !== 'string') return undefined;
  if (systemd)
    throw usage('Cannot mail from a systemd timer', 'leave out --mail, or leave out --systemd to use cron');
  if (/^[A-Za-z0-9][\w@.,+-]*$/.test(mail)) return mail;
  throw usage(
    `Cannot use --mail "${mail}"`,
    'cron takes letters, digits and @ . , _ + - in an address, like --mail bench@example.org',
  );
}

/** A path that stands on one line. @throws Fault, usage */
function held(path: string, what: string): string {
  if (!/\p{Cc}/u.test(path)) return path;
  throw usage(
    `Cannot put ${what} ${JSON.stringify(path)} on one line, its path holds a control character`,
    'rename the file or folder without line breaks and tabs',
  );
}

/** Lines that no cron cuts. @throws Fault, usage */
function fitting(lines: string[]): string[] {
  const longest = Math.max(...lines.map((line) => Buffer.byteLength(line)));
  if (longest <= MOST_BYTES) return lines;
  throw usage(
    `Cannot print a crontab line of ${longest} bytes, cron may cut it at ${MOST_BYTES}`,
    'put the ledger in a folder with a shorter path, or use --systemd',
  );
}
