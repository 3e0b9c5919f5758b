/** What cron does with a line, written after crontab(5) and the sources of crons, for tests. */

export interface Passed {
  /** What the shell gets. */
  command: string;
  /** What the command gets on its standard input, when a bare % ended it. */
  input: string | undefined;
}

/** Ends at the first bare %, and takes the backslash off these signs where one stands before them. */
function percent(line: string, unescaped: string): Passed {
  let command = '';
  for (let i = 0; i < line.length; i += 1) {
    const next = line[i + 1];
    if (line[i] === '\\' && next !== undefined) {
      command += unescaped.includes(next) ? next : `\\${next}`;
      i += 1;
    } else if (line[i] === '%') {
      return { command, input: line.slice(i + 1) };
    } else command += line[i];
  }
  return { command, input: undefined };
}

/** From a command of a crontab to what the shell gets, by what the cron does. */
export const CRONS: Record<string, (line: string) => Passed> = {
  // cronie, src/do_command.c, and crontab(5) of Debian.
  'takes the backslash off \\%': (line) => percent(line, '%'),
  // ISC cron and the cron of FreeBSD, do_command.c.
  'takes it off \\\\ as well': (line) => percent(line, '%\\'),
  // BusyBox hands the rest of the line to the shell (from memory).
  'knows no %': (line) => ({ command: line, input: undefined }),
};

export interface Fields {
  minutes: number[];
  hours: number[];
  days: number[];
  months: number[];
  /** 0 and 7 are Sunday. */
  weekdays: number[];
  command: string;
}

const RANGES = [
  [0, 59],
  [0, 23],
  [1, 31],
  [1, 12],
  [0, 7],
] as const;

/** Splits a line as crontab(5) has it, and fails on a field that it does not allow. Steps and names are left out. */
export function fieldsOf(line: string): Fields {
  const found = /^(\S+) (\S+) (\S+) (\S+) (\S+) (\S.*)$/.exec(line);
  if (!found) throw new Error(`not five fields and a command: ${line}`);
  const [minutes, hours, days, months, weekdays] = RANGES.map((range, i) => listOf(found[i + 1]!, range));
  return {
    minutes: minutes!,
    hours: hours!,
    days: days!,
    months: months!,
    weekdays: weekdays!,
    command: found[6]!,
  };
}

function listOf(field: string, [low, high]: readonly [number, number]): number[] {
  return field.split(',').flatMap((item) => {
    const [, from, to] = /^(?:\*|(\d+)(?:-(\d+))?)$/.exec(item) ?? fail(field);
    const first = from === undefined ? low : Number(from);
    const last = from === undefined ? high : Number(to ?? from);
    if (first < low || last > high || first > last) fail(field);
    return Array.from({ length: last - first + 1 }, (_, i) => first + i);
  });
}

function fail(field: string): never {
  throw new Error(`no field of a crontab: ${field}`);
}
