import { givenPace, type Pace } from '../outlook/pace.ts';
import type { Status } from '../outlook/status.ts';
import { basisHint } from '../render/basis.ts';
import { labelled } from '../render/echo.ts';
import { outlookDocument, outlookLines } from '../render/outlook.ts';
import { printable } from '../render/printable.ts';
import { wrap } from '../render/wrap.ts';
import { aheadOf, lookAhead } from './ahead.ts';
import { readableDay, readableWithDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import { daysOption, LEAD_DAYS } from './days.ts';
import type { Options } from './definition.ts';
import { EXIT, type Fault, usage } from './fault.ts';
import { tellFlagged, tellRefused, tellUncounted } from './tell.ts';

/** `outlook`: when the pair needs changing, at the shop's pace. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const ahead = aheadOf(opened);
  const { status } = ahead;
  await tellRefused(context, opened, status.replayed.refused);
  const parts = numberOption(options, 'parts');
  const { outlook, supply } = lookAhead(ahead, opened, {
    pace: paceFor(ahead.pace, options),
    leadDays: daysOption(options, 'lead', LEAD_DAYS),
    ...(parts === undefined ? {} : { partsPerLoad: parts }),
  });
  if (!outlook) throw nothingToRepeat(status);
  if (context.json)
    context.printJson('outlook', clockMs, outlookDocument({ status, outlook, supply }, rfc3339));
  else {
    const title = printable([shop.name, readableWithDay(clockMs)].filter(Boolean).join(', '));
    const lines = labelled(outlookLines({ status, outlook, supply, day: readableDay }), context);
    const basis = `In brackets: 5 to 95 %, nine chances in ten. Nothing is topped up in this count. ${basisHint(status)}.`;
    context.print([title, '', lines, '', context.paint.faint(wrap(basis, context.width))].join('\n'));
  }
  tellUncounted(context, settled);
  tellFlagged(context, status);
  return EXIT.done;
}

/** The shop's own pace, or the one that was given. */
function paceFor(own: Pace | null, options: Options): Pace {
  const perDay = numberOption(options, 'perDay');
  if (perDay !== undefined) return givenPace(perDay, own);
  if (own) return own;
  throw usage(
    'Cannot tell the pace, no wash was logged in the last 28 days',
    'give it: bathbook outlook --per-day 3',
  );
}

/** A number above 0. */
function numberOption(options: Options, name: 'perDay' | 'parts'): number | undefined {
  const text = options[name];
  if (typeof text !== 'string') return undefined;
  const number = Number(text.replace(',', '.'));
  if (number > 0 && number <= 1000) return number;
  const flag = name === 'perDay' ? '--per-day' : '--parts';
  throw usage(`Cannot use ${flag} "${text}"`, `give a number above 0, up to 1000, like ${flag} 4`);
}

function nothingToRepeat({ replayed }: Status): Fault {
  return replayed.recent.length === 0
    ? usage('Cannot look ahead, no wash was logged yet', 'log one: bathbook wash 6 model')
    : usage('Cannot look ahead, a bath is empty', 'fill it first: bathbook fill clean 4 L ipa99');
}
