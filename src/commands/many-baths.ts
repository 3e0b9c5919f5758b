import { adviceText } from '../render/advice.ts';
import { bathsDocument } from '../render/documents.ts';
import {
  type LedgerBaths,
  manyBathsDocument,
  manyBathsRecords,
  manyBathsText,
} from '../render/many-baths.ts';
import { run as runOne, urgencyOf } from './baths.ts';
import { readableWithDay, rfc3339 } from './clock.ts';
import { Context } from './context.ts';
import type { Options } from './definition.ts';
import { EXIT } from './fault.ts';
import { glanceAt } from './glance.ts';
import { type Looked, ledgersTyped, lookAtEach } from './many.ts';
import { urgencyOfAll } from './many-exit.ts';
import { ownOutlook } from './own-outlook.ts';
import { tellFlagged, tellUncounted } from './tell.ts';

type Baths = LedgerBaths & { urgency: number; exit: number };

/** `baths` of ledgers named as arguments: one alone as ever, several in one table. */
export async function run(args: readonly string[], options: Options, context: Context): Promise<number> {
  const ledgers = ledgersTyped(args, options);
  const [only, ...more] = ledgers;
  if (more.length === 0) return runOne([], options, new Context({ ...options, ledger: only }));
  const clockMs = await context.clockMs();
  const looked = await lookAtEach(ledgers, options, look);
  if (!(options.exitCode === true && context.quiet)) await show(looked, context, clockMs);
  const code = (one: Looked<Baths>, of: 'urgency' | 'exit') => one.found?.[of] ?? one.failure;
  return options.exitCode === true
    ? urgencyOfAll(looked.map((one) => code(one, 'urgency')))
    : Math.max(...looked.map((one) => code(one, 'exit')));
}

async function look(context: Context): Promise<Baths> {
  const { glance, ahead, keep } = await glanceAt(context);
  const { status } = ahead;
  const { clockMs } = glance;
  tellUncounted(context, glance.settled);
  tellFlagged(context, status);
  keep();
  return {
    status,
    when: readableWithDay(clockMs),
    asOf: rfc3339(clockMs),
    advice: adviceText(status.advice, status.estimates),
    data: context.json ? bathsDocument(status, { outlook: await ownOutlook(status), time: rfc3339 }) : {},
    urgency: urgencyOf(status),
    exit: status.replayed.refused.length > 0 ? EXIT.data : EXIT.done,
  };
}

async function show(looked: readonly Looked<Baths>[], context: Context, clockMs: number): Promise<void> {
  if (context.json) context.printJson('baths', clockMs, manyBathsDocument(looked));
  else if (context.onTerminal) context.print(await manyBathsText(looked, context));
  else {
    context.print(manyBathsRecords(looked));
    for (const { typed, found } of looked) if (found) context.note(`${typed}: Advice: ${found.advice}`);
  }
}
