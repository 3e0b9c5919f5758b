import type { Status } from '../outlook/status.ts';
import { statusOf } from '../outlook/status.ts';
import { isAtLeast } from '../outlook/verdict.ts';
import { adviceText } from '../render/advice.ts';
import { bathsRecords, bathsText } from '../render/baths.ts';
import { bathsDocument } from '../render/documents.ts';
import { readableWithDay } from './clock.ts';
import type { Context, Opened } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { tellRefused, tellUncounted } from './tell.ts';

/** `baths`: what is in each bath, the verdict, what to do. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  const opened = await context.open();
  const { shop, settled, clockMs } = opened;
  const status = statusOf(shop, settled.entries, clockMs);
  await tellRefused(context, opened, status);
  await show(context, status, opened, options.exitCode === true && context.quiet);
  tellUncounted(context, settled);
  if (status.replayed.refused.length > 0) return EXIT.data;
  return options.exitCode === true ? exitCode(status) : EXIT.done;
}

async function show(context: Context, status: Status, { clockMs }: Opened, silent: boolean): Promise<void> {
  if (silent) return;
  if (context.json) {
    context.printJson('baths', clockMs, bathsDocument(status));
  } else if (context.onTerminal) {
    const view = { paint: context.paint, when: readableWithDay(clockMs), width: context.width };
    context.print(await bathsText(status, view));
  } else {
    context.print(bathsRecords(status));
    context.note(`Advice: ${adviceText(status.advice, status.estimates)}`);
    context.note('Default factors, not calibrated');
  }
}

/** 0 keep, 1 soon, 2 change or stop: the worst of the baths. */
function exitCode({ estimates }: Status): number {
  if (estimates.some(({ verdict }) => isAtLeast(verdict, 'change'))) return 2;
  return estimates.some(({ verdict }) => verdict === 'soon') ? 1 : 0;
}
