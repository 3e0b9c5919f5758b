import type { Outlook } from '../outlook/outlook.ts';
import type { Status } from '../outlook/status.ts';
import { trailAhead, trailBehind } from '../outlook/trail.ts';
import { type Until, untilOf } from '../outlook/until.ts';
import { stockOf } from '../records/stock.ts';
import { basisHint } from '../render/basis.ts';
import { chartText } from '../render/chart.ts';
import { labelled } from '../render/echo.ts';
import { outlookDocument, outlookLines } from '../render/outlook.ts';
import { printable } from '../render/printable.ts';
import { untilDocument, untilLines } from '../render/until.ts';
import { wrap } from '../render/wrap.ts';
import { type Ahead, aheadOf, type Glance, lookAhead } from './ahead.ts';
import { readableDay, readableWithDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { daysOption, LEAD_DAYS, localDays } from './days.ts';
import type { Options } from './definition.ts';
import { EXIT, type Fault, usage } from './fault.ts';
import { type Glanced, glanceAt } from './glance.ts';
import { numberIn } from './number-option.ts';
import { paceFor } from './pace-option.ts';
import { tellFlagged, tellRefused, tellUncounted } from './tell.ts';
import { readUntil } from './until.ts';

/** `outlook`: when the pair needs changing, at the shop's pace; up to a day, what that takes. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const drawn = options.chart ?? context.onTerminal;
  // What was is shown from the last change on, which lies before any halt.
  const { glance, ahead, keep } =
    drawn || context.json ? await wholeOf(context) : await glanceAt(context, { records: true });
  const { shop, settled, clockMs } = glance;
  const { status } = ahead;
  const toMs = typeof options.until === 'string' ? await readUntil(options.until, clockMs) : undefined;
  const parts = numberIn(options, { flag: 'parts', least: 0.01, most: 1000, example: '4' });
  const leadDays = daysOption(options, 'lead', LEAD_DAYS);
  const { outlook, supply } = lookAhead(ahead, glance, {
    pace: paceFor(ahead.pace, options, { command: 'outlook', clockMs }),
    leadDays,
    ...(parts === undefined ? {} : { partsPerLoad: parts }),
  });
  if (!outlook) throw nothingToRepeat(status);
  const until = toMs === undefined ? null : untilAt(toMs, ahead, glance, { outlook, leadDays });
  if (context.json) {
    const trail = trailOf(ahead, glance, outlook);
    context.printJson('outlook', clockMs, {
      ...outlookDocument({ status, outlook, supply, ...trail }, rfc3339),
      until: until && untilDocument({ until, shop, clockMs }, rfc3339),
    });
  } else {
    const title = printable([shop.name, readableWithDay(clockMs)].filter(Boolean).join(', '));
    const first = outlookLines({ status, outlook, supply, day: readableDay });
    const sections = [
      title,
      ...(drawn ? [chart(ahead, glance, outlook, context)] : []),
      labelled(first, context),
      ...(until ? [labelled(untilLines({ until, shop, clockMs, day: readableDay }), context)] : []),
      context.paint.faint(wrap(`${notes(until)} ${basisHint(status)}.`, context.width)),
    ];
    context.print(sections.filter(Boolean).join('\n\n'));
  }
  tellUncounted(context, settled);
  tellFlagged(context, status);
  keep();
  return EXIT.done;
}

/** With every entry. */
async function wholeOf(context: Context): Promise<Glanced> {
  const opened = await context.open();
  const ahead = aheadOf(opened);
  await tellRefused(context, opened, ahead.status.replayed.refused);
  return { glance: opened, ahead, keep: () => {} };
}

function notes(until: Until | null): string {
  const brackets = 'In brackets: 5 to 95 %, nine chances in ten.';
  if (!until)
    return `${brackets} Nothing is topped up in this count, and solvent evaporates meanwhile; the loads left of bathbook baths are counted without that.`;
  return `${brackets} Nothing is topped up before the next change; in what is counted until then, a bath below nine tenths of its mark in the morning is, and a bath at its change limit is changed that day: by resin rotated, by water refilled, by age alone not at all. In the bands a change under way counts by its share.`;
}

function trailOf({ status }: Ahead, { settled }: Glance, outlook: Outlook) {
  return {
    past: trailBehind(status, settled.entries, localDays),
    ahead: trailAhead(status, outlook, localDays),
  };
}

function chart(ahead: Ahead, glance: Glance, outlook: Outlook, context: Context): string {
  const { width, paint, ascii } = context;
  const trail = trailOf(ahead, glance, outlook);
  return chartText({ ...trail, shop: glance.shop, day: readableDay, width, paint, ascii });
}

function untilAt(
  toMs: number,
  { status, movements }: Ahead,
  { shop, settled, clockMs }: Glance,
  { outlook, leadDays }: { outlook: Outlook; leadDays: number },
): Until | null {
  const stock = stockOf(shop, settled.entries, movements, clockMs);
  return untilOf(status, outlook, { toMs, days: localDays, stock, leadDays });
}

function nothingToRepeat({ replayed }: Status): Fault {
  return replayed.recent.length === 0
    ? usage('Cannot look ahead, no wash was logged yet', 'log one: bathbook wash 6 model')
    : usage('Cannot look ahead, a bath is empty', 'fill it first: bathbook fill clean 4 L ipa99');
}
