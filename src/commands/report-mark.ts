/** Up to when the last report went, so that the next goes on from there. Kept in the state folder, by ledger and by where it went. */
import { readFileSync } from 'node:fs';
import { isAbsolute, join } from 'node:path';
import { parseTime } from '../ledger/time.ts';
import { keepState } from './keep-state.ts';

/** By ledger and destination: the end of the last report, RFC 3339. */
type Marks = Record<string, Record<string, string>>;

export interface Place {
  ledger: string;
  /** The file or the kind of output: each is a series of reports of its own. */
  goesTo: string;
  env: NodeJS.ProcessEnv;
}

/** @returns the end of the last report; null when there was none; undefined when there is no folder to keep it in */
export function lastReport({ ledger, goesTo, env }: Place): number | null | undefined {
  const path = marksFile(env);
  if (path === undefined) return undefined;
  const ms = parseTime(read(path)[ledger]?.[goesTo] ?? '');
  return Number.isNaN(ms) ? null : ms;
}

/** Keeps the end of this report, unless a later one is kept. @returns why it could not, when it could not */
export function keepReport({ ledger, goesTo, env }: Place, end: string): string | undefined {
  const path = marksFile(env);
  if (path === undefined) return undefined;
  const marks = read(path);
  const before = parseTime(marks[ledger]?.[goesTo] ?? '');
  if (before >= parseTime(end)) return undefined;
  marks[ledger] = { ...marks[ledger], [goesTo]: end };
  try {
    keepState(path, marks);
    return undefined;
  } catch (error) {
    return `Cannot keep the time of this report in ${path}: ${(error as Error).message}`;
  }
}

/** Anything that is not as written here counts as no report. */
function read(path: string): Marks {
  try {
    const found: unknown = JSON.parse(readFileSync(path, 'utf8'));
    return isMarks(found) ? found : {};
  } catch {
    return {};
  }
}

function isMarks(found: unknown): found is Marks {
  const isMap = (one: unknown): one is object =>
    typeof one === 'object' && one !== null && !Array.isArray(one);
  return (
    isMap(found) &&
    Object.values(found).every(
      (own) => isMap(own) && Object.values(own).every((end) => typeof end === 'string'),
    )
  );
}

/** By the XDG base directory specification: a relative XDG_STATE_HOME does not count. Without a home there is none. */
function marksFile({ XDG_STATE_HOME: xdg, HOME: home }: NodeJS.ProcessEnv): string | undefined {
  const state = [xdg, home && join(home, '.local', 'state')].find((path) => path && isAbsolute(path));
  return state && join(state, 'bathbook', 'report.json');
}
