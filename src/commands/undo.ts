/** `undo`: takes the last entry back, or the one named. */

import { refusalProblem } from '../bath/refusal.ts';
import { openShop, type Shop } from '../bath/shop.ts';
import { type CutDecision, type CutLast, cutLast } from '../ledger/append-cut-last.ts';
import type { AmendEvent, LedgerEvent, Written } from '../ledger/event.ts';
import { withExcerpt } from '../ledger/excerpt.ts';
import { writeFlow } from '../ledger/line.ts';
import type { LedgerFile } from '../ledger/read.ts';
import { settle } from '../ledger/settle.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { adviceText } from '../render/advice.ts';
import { bathDocument, statesDocument } from '../render/documents.ts';
import { changeLines, type Line, labelled } from '../render/echo.ts';
import { eventText } from '../render/entries.ts';
import type { Paint } from '../render/paint.ts';
import { printable } from '../render/printable.ts';
import { catalogue } from '../substance/catalogue.ts';
import type { Context } from './context.ts';
import { whenOf } from './correct.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';
import { EXIT, Fault } from './fault.ts';
import { LAST } from './last-word.ts';
import { logAgain } from './log-again.ts';
import { isRecord } from './report-back.ts';
import { isDone } from './streams.ts';
import { newlyRefused } from './try-out.ts';
import { voidEntries } from './void.ts';

/** What the cut did, with the baths with and without the entry. */
interface Undone {
  event: LedgerEvent;
  shop: Shop;
  before: Status;
  after: Status;
}

/**
 * The very last line is cut off; any other entry is voided, and so is the last one when a reason or a note is given,
 * since only a void can keep the words. Several are voided, all of them at once or none.
 */
export async function run(ids: string[], options: Options, context: Context): Promise<number> {
  const hasWords = [options.why, options.note, options.at, options.by].some((given) => given !== undefined);
  if (ids.length > 1 || hasWords || !(await cutOff(ids[0], options, context))) {
    const why = (options.why as string | undefined) ?? 'undone';
    await voidEntries(context, options, { of: ids, why, command: 'undo' });
  }
  return EXIT.done;
}

/** @returns false when the entry is not the last line, so that it must be voided */
async function cutOff(id: string | undefined, options: Options, context: Context): Promise<boolean> {
  const { path } = context.ledger();
  let undone: Undone | undefined;
  const decide = async (file: LedgerFile, last: Written): Promise<CutDecision> => {
    const isLast = id === undefined || id === last.event.id || meansLast(id, file);
    if (!isLast) return { refused: [NOT_LAST] };
    undone = await without(file, last, context);
    const refused = newlyRefused(undone.after, undone.before);
    const { shop } = undone;
    return refused.length > 0
      ? { refused: refused.map((one) => withExcerpt(file.text, refusalProblem(one, shop))) }
      : { cut: true };
  };
  const dryRun = options.dryRun === true;
  const cut = await cutLast(path, decide, { catalogue, command: 'bathbook undo', dryRun });
  if (cut.problems[0]?.code === NOT_LAST.code) return false;
  if (cut.problems.length > 0 || !undone) throw await refusedFault(cut, path);
  if (!dryRun) isDone(`It is undone all the same; see: ${context.hint('bathbook entries --last 1')}`);
  tell(context, { ...undone, path, dryRun, cut });
  return true;
}

/** Unless an entry has that very id. */
function meansLast(id: string, { events }: LedgerFile): boolean {
  return id === LAST && events.every(({ event }) => event.id !== LAST);
}

const NOT_LAST = {
  code: 'not-last-line',
  message: 'Cannot cut off an older entry',
  severity: 'error',
} as const;

async function without(file: LedgerFile, last: Written, context: Context): Promise<Undone> {
  const shop = openShop(file.header!);
  context.useShop(shop);
  const clockMs = await context.clockMs();
  const status = async (events: readonly Written[]): Promise<Status> =>
    statusOf(shop, (await settle(events, clockMs, file.header, catalogue)).entries, clockMs, {
      days: localDays,
    });
  const others = file.events.filter((written) => written !== last);
  return { event: last.event, shop, before: await status(file.events), after: await status(others) };
}

async function refusedFault({ problems }: CutLast, path: string): Promise<Fault> {
  const { exitCodeOf } = await import('../ledger/problems.ts');
  return new Fault(problems, exitCodeOf(problems) || EXIT.data, path);
}

type Told = Undone & { path: string; dryRun: boolean; cut: CutLast };

function tell(context: Context, told: Told): void {
  if (context.json) context.printJson('undo', told.after.clockMs, documentOf(told));
  else if (!context.quiet) context.print(textOf(context, told));
}

function textOf(context: Context, { event, shop, before, after, dryRun, cut }: Told): string {
  const { paint } = context;
  return labelled(
    [
      [dryRun ? 'would undo' : 'undone', `${paint.strong(event.id)}, ${event.what} of ${whenOf(event)}`],
      ['', printable(wordsOf(event, shop))],
      ...(isRecord(event) ? [] : bathLines({ shop, before, after }, paint)),
      ...(dryRun
        ? [['', 'dry run, nothing was written'] as const]
        : [putBackLine(context, logAgain(event, shop)), ['kept in', cut.copy!] as const]),
    ],
    context,
  );
}

function bathLines({ shop, before, after }: Pick<Undone, 'shop' | 'before' | 'after'>, paint: Paint): Line[] {
  const view = { shop, estimates: after.estimates, paint };
  return [
    ...changeLines(before.replayed.baths, after.replayed.baths, view),
    ['advice', adviceText(after.advice, after.estimates)],
  ];
}

/** What was undone; a correction by what it had changed. */
function wordsOf(event: LedgerEvent, shop: Shop): string {
  switch (event.what) {
    case 'void':
      return `${event.of} counts again; it was void: ${event.why}`;
    case 'amend':
      return `${event.of} is as it was before; it was amended: ${amendWords(event)}`;
    default:
      return eventText(event, shop);
  }
}

function amendWords({ set, why }: AmendEvent): string {
  return `${writeFlow(set).slice(1, -1)}; ${why}`;
}

/** How the entry comes into the ledger again. */
function putBackLine(context: Context, command: string | null): Line {
  return command === null
    ? [
        'to put back',
        'no command can say it all; copy the last line of the file below to the end of the ledger',
      ]
    : ['to put back', context.hint(command)];
}

function documentOf({ event, shop, before, after, path, dryRun, cut }: Told): Record<string, unknown> {
  return {
    how: 'cut',
    event,
    line: cut.line!.trim(),
    put_back: logAgain(event, shop),
    kept_in: dryRun ? null : cut.copy,
    ledger: path,
    dry_run: dryRun,
    before: statesDocument(before.replayed.baths, shop),
    after: statesDocument(after.replayed.baths, shop),
    baths: after.estimates.map(bathDocument),
    advice: { action: after.advice.action, text: adviceText(after.advice, after.estimates) },
  };
}
