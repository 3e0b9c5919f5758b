/** Lines of a crontab, as every cron in use reads them, and whatever the names of files hold. */

/** What runs by the clock. */
export interface Job {
  what: 'due' | 'report';
  hour: number;
  minute: number;
  /** Monday to Friday alone. */
  workdays: boolean;
  /** The command, word by word. */
  words: readonly string[];
  /** The highest exit status that is an answer and no failure. */
  answersUpTo: number;
  /** Writes a file that others may read. */
  isShared?: boolean;
}

/** The lines of a crontab: to whom it is mailed, where that is said, then a line a job. */
export function crontab(jobs: readonly Job[], mailTo: string | undefined): string[] {
  return [...(mailTo === undefined ? [] : [`MAILTO=${mailTo}`]), ...jobs.map(cronLine)];
}

/** Minute, hour, day of the month, month, weekday (1 is Monday), command. */
function cronLine(job: Job): string {
  return `${job.minute} ${job.hour} * * ${job.workdays ? '1-5' : '*'} ${cronCommand(job)}`;
}

/** The command. A status that is an answer becomes 0, for a cron that mails of every other one. */
export function cronCommand({ words, answersUpTo }: Pick<Job, 'words' | 'answersUpTo'>): string {
  const command = words.map(cronWord).join(' ');
  return answersUpTo > 0 ? `${command} || [ $? -le ${answersUpTo} ]` : command;
}

const PLAIN = /^[\w./@:+,-]+$/;

/**
 * A word for the shell that cron leaves as it is.
 *
 * Cron takes a bare `%` for the end of the line, and the backslash off `\%`; some take one off `\\` too, and some touch
 * neither. So `%` stands outside the quotes as `\%`, which is `%` to cron and to the shell alike, and a backslash inside
 * them never stands before another backslash or a `%`: the quotes close and open again right after it.
 */
function cronWord(word: string): string {
  return PLAIN.test(word) ? word : shellWord(word, CRON_SIGNS);
}

const SHELL_SIGNS: Record<string, string> = { "'": "'\\''" };
const CRON_SIGNS: Record<string, string> = { ...SHELL_SIGNS, '%': "'\\%'", '\\': "\\''" };

/** A word in single quotes, with what cannot stand in them as given. */
export function shellWord(word: string, signs: Record<string, string> = SHELL_SIGNS): string {
  return PLAIN.test(word) ? word : `'${word.replaceAll(/['%\\]/g, (sign) => signs[sign] ?? sign)}'`;
}
