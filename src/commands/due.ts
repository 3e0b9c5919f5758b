import { dueOf, keyOf, type Matter, type Severity } from '../outlook/due.ts';
import { outlookOf } from '../outlook/outlook.ts';
import { paceOf } from '../outlook/pace.ts';
import { Since } from '../outlook/since.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { dueDocument, dueLines } from '../render/due.ts';
import { readableDay, rfc3339 } from './clock.ts';
import type { Context, Opened } from './context.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { tellRefused } from './tell.ts';
import { notToldToday } from './told-today.ts';
import { quantity } from './values.ts';

const NOTHING = 0;
const SOON = 1;
const CHANGE = 2;
const COULD_NOT_JUDGE = 3;

const MINUTES_PER_DAY = 1440;

/** `due`: prints only what is due; the exit status says how urgent it is. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const settings = {
    withinDays: daysOption(options, 'within', 3),
    staleDays: daysOption(options, 'stale', 5),
    readingDays: daysOption(options, 'reading', 28),
  };
  const opened = await context.open();
  const { shop, settled, clockMs, path } = opened;
  const since = new Since(shop);
  const status = statusOf(shop, settled.entries, clockMs, since.watch);
  since.look(status.replayed.baths, clockMs);
  await tellRefused(context, opened, status.replayed.refused);
  const judged = isJudged(status);
  const matters = judged ? mattersOf(opened, status, since, settings) : [];
  const told = options.onceADay === true ? untold(matters, path, clockMs, context) : matters;
  const view = { status, day: readableDay };
  if (context.json) {
    context.printJson('due', clockMs, dueDocument(told, view, { ledger: path, time: rfc3339, judged }));
  } else if (told.length > 0) {
    context.print([...dueLines(told, view), `ledger: ${path}`].join('\n'));
  }
  if (!judged)
    context.note(`Could not judge the baths of ${path}: a bath is empty, or the ledger is at odds`);
  return judged ? codeOf(matters) : COULD_NOT_JUDGE;
}

function mattersOf(
  { shop, settled, clockMs }: Opened,
  status: Status,
  since: Since,
  settings: Parameters<typeof dueOf>[1],
): Matter[] {
  const { entries } = settled;
  const pace = paceOf(shop, entries, clockMs, localDays);
  const outlook = pace && outlookOf(status, { pace, days: localDays });
  return dueOf({ status, since, outlook, pace, entries, days: localDays }, settings);
}

/** A bath without solvent, or one that the data do not reach, has no verdict; nor have events that cannot be. */
function isJudged({ estimates, replayed }: Status): boolean {
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

/** Days; a bare number is days here. */
function daysOption(options: Options, name: 'within' | 'stale' | 'reading', preset: number): number {
  const text = options[name];
  if (typeof text !== 'string') return preset;
  const bare = /^\d+(?:\.\d+)?$/.test(text.trim());
  const days = bare ? Number(text) : quantity(text, 'duration', `--${name}`) / MINUTES_PER_DAY;
  if (days >= 0 && days <= 366) return days;
  throw usage(`Cannot use --${name} "${text}"`, `give 0 to 366 days, like --${name} ${preset}d`);
}
