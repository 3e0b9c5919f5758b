import { type DueSettings, dueOf, keyOf, type Matter, type Severity } from '../outlook/due.ts';
import type { Status } from '../outlook/status.ts';
import { dueDocument, dueLines } from '../render/due.ts';
import { wrap } from '../render/wrap.ts';
import { type Ahead, containersAt, type Glance, lookAhead, stockAt } from './ahead.ts';
import { readableDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { daysOption, LEAD_DAYS, localDays } from './days.ts';
import type { Options } from './definition.ts';
import { type Glanced, glanceAt } from './glance.ts';
import { peroxideTests } from './stock-items.ts';
import { notToldToday } from './told-today.ts';

const NOTHING = 0;
const SOON = 1;
const CHANGE = 2;
const COULD_NOT_JUDGE = 3;

interface Settings extends DueSettings {
  /** From an order of solvent to its delivery. */
  leadDays: number;
}

/** What counts as due where nothing else was asked for. */
export const DUE_SETTINGS: Settings = { withinDays: 3, staleDays: 5, readingDays: 28, leadDays: LEAD_DAYS };

/** `due`: prints only what is due; the exit status says how urgent it is. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  if (args.length > 0) return (await import('./many-due.ts')).run(args, options, context);
  const { glance, lines, data, code, keep } = await lookDue(options, settingsOf(options), context);
  if (context.json) context.printJson('due', glance.clockMs, data);
  else if (lines.length > 0) {
    const told = [...lines, `ledger: ${glance.path}`];
    // A mail keeps its lines whole.
    const shown = context.onTerminal ? told.map((line) => wrap(line, context.width - 2, '  ')) : told;
    context.print(shown.join('\n'));
  }
  keep();
  return code;
}

/** @throws Fault, usage */
export function settingsOf(options: Options): Settings {
  return {
    withinDays: daysOption(options, 'within', DUE_SETTINGS.withinDays),
    staleDays: daysOption(options, 'stale', DUE_SETTINGS.staleDays),
    readingDays: daysOption(options, 'reading', DUE_SETTINGS.readingDays),
    leadDays: daysOption(options, 'lead', DUE_SETTINGS.leadDays),
  };
}

/** What is due in one ledger, as text in the zone of its shop. */
export async function lookDue(
  options: Options,
  settings: Settings,
  context: Context,
): Promise<Pick<Glanced, 'glance' | 'keep'> & { lines: string[]; data: unknown; code: number }> {
  const { glance, ahead, keep } = await glanceAt(context, { warn: false, records: true });
  const { clockMs, path } = glance;
  const { status } = ahead;
  const judged = isJudged(status);
  const matters = judged ? mattersOf(glance, ahead, settings) : [];
  const told = options.onceADay === true ? untold(matters, path, clockMs, context) : matters;
  const view = { status, day: readableDay };
  if (!judged)
    context.note(`Could not judge the baths of ${path}: a bath is empty, or the ledger is at odds`);
  return {
    glance,
    keep,
    lines: dueLines(told, view),
    data: dueDocument(told, view, { ledger: path, time: rfc3339, judged }),
    code: judged ? codeOf(matters) : COULD_NOT_JUDGE,
  };
}

function mattersOf(glance: Glance, ahead: Ahead, settings: Settings): Matter[] {
  const { status, since, movements, pace } = ahead;
  const { outlook, supply } = pace
    ? lookAhead(ahead, glance, { pace, leadDays: settings.leadDays })
    : { outlook: null, supply: null };
  const containers = containersAt(ahead, glance);
  const { entries } = glance.settled;
  const tests = peroxideTests(stockAt(movements, glance), entries);
  const on = { status, since, outlook, pace, entries, days: localDays, supply, containers, tests };
  return dueOf(on, settings);
}

/** A bath without solvent, or one that the data do not reach, has no verdict; nor have events that cannot be. */
export function isJudged({ estimates, replayed }: Status): boolean {
  return (
    replayed.refused.length === 0 &&
    estimates.every(({ resinWtPct, beyondModel }) => resinWtPct !== null && !beyondModel)
  );
}

function untold(matters: readonly Matter[], ledger: string, clockMs: number, context: Context): Matter[] {
  const today = rfc3339(clockMs).slice(0, 10);
  const { keys, trouble } = notToldToday(matters.map(keyOf), { ledger, today, env: process.env });
  if (trouble) context.note(trouble);
  return matters.filter((matter) => keys.has(keyOf(matter)));
}

/** As urgent as the worst, told today or not. */
function codeOf(matters: readonly Matter[]): number {
  const urgent: Severity[] = ['change', 'stop'];
  if (matters.some(({ severity }) => urgent.includes(severity))) return CHANGE;
  return matters.length > 0 ? SOON : NOTHING;
}
