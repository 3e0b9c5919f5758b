import { outlookOf } from '../outlook/outlook.ts';
import { givenPace, type Pace, paceOf } from '../outlook/pace.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { basisHint } from '../render/basis.ts';
import { labelled } from '../render/echo.ts';
import { outlookDocument, outlookLines } from '../render/outlook.ts';
import { printable } from '../render/printable.ts';
import { wrap } from '../render/wrap.ts';
import { readableDay, readableWithDay, rfc3339 } from './clock.ts';
import type { Context, Opened } from './context.ts';
import { localDays } from './days.ts';
import type { Options } from './definition.ts';
import { EXIT, type Fault, usage } from './fault.ts';
import { tellFlagged, tellRefused, tellUncounted } from './tell.ts';

/** `outlook`: when the pair needs changing, at the shop's pace. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const status = statusOf(shop, settled.entries, clockMs);
  await tellRefused(context, opened, status.replayed.refused);
  const pace = paceFor(opened, options);
  const parts = numberOption(options, 'parts');
  const outlook = outlookOf(status, {
    pace,
    days: localDays,
    ...(parts === undefined ? {} : { partsPerLoad: parts }),
  });
  if (!outlook) throw nothingToRepeat(status);
  if (context.json) context.printJson('outlook', clockMs, outlookDocument({ status, outlook }, rfc3339));
  else {
    const title = printable([shop.name, readableWithDay(clockMs)].filter(Boolean).join(', '));
    const lines = labelled(outlookLines({ status, outlook, day: readableDay }), context);
    const basis = `In brackets: 5 to 95 %, nine chances in ten. Nothing is topped up in this count. ${basisHint(status)}.`;
    context.print([title, '', lines, '', context.paint.faint(wrap(basis, context.width))].join('\n'));
  }
  tellUncounted(context, settled);
  tellFlagged(context, status);
  return EXIT.done;
}

/** The shop's own pace, or the one that was given. */
function paceFor({ shop, settled, clockMs }: Opened, options: Options): Pace {
  const own = paceOf(shop, settled.entries, clockMs, localDays);
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
