import { type LedgerDue, manyDueDocument, manyDueLines, manyDueTable } from '../render/many-due.ts';
import { aligned } from '../render/table.ts';
import { rfc3339 } from './clock.ts';
import { Context } from './context.ts';
import type { Options } from './definition.ts';
import { lookDue, run as runOne, settingsOf } from './due.ts';
import { type Looked, ledgersTyped, lookAtEach } from './many.ts';
import { urgencyOfAll } from './many-exit.ts';

/** `due` of ledgers named as arguments: one alone as ever, several in one list, the most urgent ledger first. */
export async function run(args: readonly string[], options: Options, context: Context): Promise<number> {
  const ledgers = ledgersTyped(args, options);
  const [only, ...more] = ledgers;
  if (more.length === 0) return runOne([], options, new Context({ ...options, ledger: only }));
  const settings = settingsOf(options);
  const clockMs = await context.clockMs();
  const looked = await lookAtEach(ledgers, options, async (own): Promise<LedgerDue> => {
    const { code, lines, data, glance, keep } = await lookDue(options, settings, own);
    keep();
    return { code, lines, data, shop: glance.shop.name, asOf: rfc3339(glance.clockMs) };
  });
  await show(looked, context, clockMs);
  return urgencyOfAll(looked.map(({ found, failure }) => found?.code ?? failure));
}

async function show(looked: readonly Looked<LedgerDue>[], context: Context, clockMs: number): Promise<void> {
  if (context.json) {
    context.printJson('due', clockMs, manyDueDocument(looked));
    return;
  }
  const lines = manyDueLines(looked);
  if (lines.length === 0) return;
  context.print(
    context.onTerminal ? await aligned(manyDueTable(looked), context.paint, context.width) : lines.join('\n'),
  );
}
