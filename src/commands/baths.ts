import type { Status } from '../outlook/status.ts';
import { isAtLeast } from '../outlook/verdict.ts';
import { adviceText } from '../render/advice.ts';
import { basisHint } from '../render/basis.ts';
import { bathsRecords, bathsText } from '../render/baths.ts';
import { bathsDocument } from '../render/documents.ts';
import type { Glance } from './ahead.ts';
import { readableWithDay, rfc3339 } from './clock.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { glanceAt } from './glance.ts';
import { ownOutlook } from './own-outlook.ts';
import { tellFlagged, tellUncounted } from './tell.ts';

/** `baths`: what is in each bath, the verdict, what to do. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  if (args.length > 0) return (await import('./many-baths.ts')).run(args, options, context);
  const { glance: looked, ahead, keep } = await glanceAt(context);
  const { status } = ahead;
  // The demo shows people a page, wherever its output goes.
  const glance = context.onTerminal || options.glance === true;
  if (!(options.exitCode === true && context.quiet)) await show(context, status, looked, glance);
  tellUncounted(context, looked.settled);
  tellFlagged(context, status);
  keep();
  if (options.exitCode === true) return urgencyOf(status);
  return status.replayed.refused.length > 0 ? EXIT.data : EXIT.done;
}

async function show(context: Context, status: Status, { clockMs }: Glance, glance: boolean): Promise<void> {
  if (context.json) {
    context.printJson(
      'baths',
      clockMs,
      bathsDocument(status, { outlook: await ownOutlook(status), time: rfc3339 }),
    );
  } else if (glance) {
    const view = { paint: context.paint, when: readableWithDay(clockMs), width: context.width };
    context.print(await bathsText(status, view));
  } else {
    context.print(bathsRecords(status));
    context.note(`Advice: ${adviceText(status.advice, status.estimates)}`);
    context.note(basisHint(status));
  }
}

const COULD_NOT_JUDGE = 3;

/**
 * 0 keep, 1 soon, 2 change or stop: the worst of the baths; else 3 when one holds nothing, or what the data do not reach. 3 also when
 * an event cannot have happened.
 */
export function urgencyOf({ estimates, replayed }: Status): number {
  if (replayed.refused.length > 0) return COULD_NOT_JUDGE;
  const unjudged = (bath: Status['estimates'][number]) => bath.resinWtPct === null || bath.beyondModel;
  if (estimates.some((bath) => !unjudged(bath) && isAtLeast(bath.verdict, 'change'))) return 2;
  if (estimates.some(unjudged)) return COULD_NOT_JUDGE;
  return estimates.some(({ verdict }) => verdict === 'soon') ? 1 : 0;
}
