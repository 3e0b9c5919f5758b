/** What fill, top-up, drain, rotate and refill share: the bath's name, the echo, the question. */

import type { Shop } from '../bath/shop.ts';
import { changeLines, labelled, moveLines } from '../render/echo.ts';
import { capital } from '../render/format.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { low, moveWarnings, overflows } from './move-warnings.ts';
import { reportBack } from './report-back.ts';
import { known } from './values.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

/** Logs a move and tells it; on a terminal it asks first where a bath would run over, or hardly be filled. */
export async function logMove(
  context: Context,
  options: Options,
  build: (bench: Bench) => Body | Promise<Body>,
  understood: (logged: Logged) => string,
): Promise<number> {
  if (asks(context, options)) {
    const preview = await writeEvent(context, { ...options, dryRun: true }, build, { short: true });
    const odd = [...overflows(preview), ...(preview.step ? low(preview.step, preview.shop) : [])];
    if (odd.length > 0) {
      for (const note of odd) context.note(`Note: ${note}`);
      if (!(await agreed(context, preview, understood))) return 0;
    }
  }
  return log(context, options, build, understood);
}

async function log(
  context: Context,
  options: Options,
  build: (bench: Bench) => Body | Promise<Body>,
  understood: (logged: Logged) => string,
): Promise<number> {
  const logged = await writeEvent(context, options, build, { before: options.at !== undefined, short: true });
  reportBack(context, logged, { understood: understood(logged), warnings: moveWarnings(logged) });
  return 0;
}

/** As {@link logMove}, but shows what would happen and asks first, on a terminal. */
export async function askAndLogMove(
  context: Context,
  options: Options,
  build: (bench: Bench) => Body | Promise<Body>,
  understood: (logged: Logged) => string,
): Promise<number> {
  if (asks(context, options)) {
    const preview = await writeEvent(context, { ...options, dryRun: true }, build, { short: true });
    const shown = labelled(previewLines(context, preview), context);
    if (context.json) context.note(shown);
    else context.print(shown);
    for (const warning of moveWarnings(preview)) context.note(`Note: ${warning}`);
    if (!(await agreed(context, preview, understood))) return 0;
  }
  return log(context, options, build, understood);
}

function asks(context: Context, options: Options): boolean {
  return context.canAsk && options.yes !== true && options.dryRun !== true;
}

async function agreed(
  context: Context,
  preview: Logged,
  understood: (logged: Logged) => string,
): Promise<boolean> {
  context.note(`${capital(understood(preview))}.`);
  if (await context.confirm('Log it?')) return true;
  context.note('Nothing was logged');
  return false;
}

function previewLines(context: Context, { step, shop, status }: Logged) {
  const view = { shop, estimates: status.estimates, paint: context.paint };
  return [...moveLines(step!.move!), ...changeLines(step!.before, step!.after, view)];
}

/** A bath of the ledger by its name. @throws Fault, usage, with the nearest names */
export function bathOf(name: string, shop: Shop): string {
  return known(name, 'bath', shop.tubPlace);
}

/** `--into`, when given. */
export function intoOption(options: Options): { into?: string } {
  return typeof options.into === 'string' ? { into: options.into } : {};
}
