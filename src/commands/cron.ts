import { realpathSync } from 'node:fs';
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

/** `cron`: prints what runs the reminder by the clock, and how to install it. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const time = timeOf((options.remind as string | undefined) ?? '07:30', '--remind');
  const mailTo = mailOption(options);
  const computerZone = new Intl.DateTimeFormat().resolvedOptions().timeZone;
  const { path, shop, clockMs } = await context.open();
  const ledger = held(realpathSync(path), 'the ledger');
  const program = [held(process.execPath, 'Node'), held(realpathSync(process.argv[1]!), 'the program')];
  const workdays = options.workdays === true;
  const words = [...program, 'due', '--once-a-day', '--ledger', ledger];
  const job: Job = { ...time, workdays, words, answersUpTo: DUE_ANSWERS_UP_TO };
  const again = [...program, 'cron', '--systemd', '--quiet', ...givenAgain(options), '--ledger', ledger];
  const answer = options.systemd ? forSystemd(job, shop, again) : forCron(job, mailTo);
  if (context.json) {
    const { lines, units, install } = answer;
    context.printJson('cron', clockMs, { ledger, remind: clock(time), workdays, lines, units, install });
    return EXIT.done;
  }
  context.print(answer.text);
  context.note(`\nReminder ${workdays ? 'Monday to Friday' : 'every day'} at ${clock(time)} for ${ledger}`);
  if (!options.systemd && shop.zone !== undefined && shop.zone !== computerZone)
    context.note(`The time is that of this computer (${computerZone}); the shop is in ${shop.zone}`);
  context.note(answer.hint);
  return EXIT.done;
}

function forCron(job: Job, mailTo: string | undefined): Answer {
  const lines = fitting(crontab([job], mailTo));
  const add =
    mailTo === undefined ? 'the line' : 'both lines at the end: MAILTO holds for every line below it';
  const hint = `To install: crontab -e, and add ${add}\nCron mails what it prints, where this computer can send mail`;
  return { text: lines.join('\n'), lines, units: [], install: ['crontab -e'], hint };
}

function forSystemd(job: Job, shop: Pick<Shop, 'name' | 'zone'>, again: readonly string[]): Answer {
  const units = systemdUnits(job, shop);
  const hint = [
    'To install: the two commands at the top',
    `What it said: journalctl --user -u ${units[0].file}`,
    'It runs while you are logged in; for always: loginctl enable-linger',
  ].join('\n');
  return { text: systemdText(units, again), lines: [], units, install: installation(units, again), hint };
}

/** The options, as they were given, for the same answer another time. */
function givenAgain({ remind, workdays }: Options): string[] {
  return [...(typeof remind === 'string' ? ['--remind', remind] : []), ...(workdays ? ['--workdays'] : [])];
}

type Time = Pick<Job, 'hour' | 'minute'>;

/** A time of day. @throws Fault, usage */
function timeOf(text: string, option: string): Time {
  const [, hours, minutes] = /^(\d{1,2}):(\d{2})$/.exec(text.trim()) ?? [];
  const time = { hour: Number(hours), minute: Number(minutes) };
  if (time.hour <= 23 && time.minute <= 59) return time;
  throw usage(`Cannot use ${option} "${text}"`, `give a time from 00:00 to 23:59, like ${option} 07:30`);
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
