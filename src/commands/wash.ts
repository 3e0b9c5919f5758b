import type { WashEvent } from '../ledger/event.ts';
import { best } from '../outlook/quantity.ts';
import { carryLine, casesWords, dryingLine, leftLine, washWords } from '../render/wash.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { reportBack } from './report-back.ts';
import { washBody } from './wash-body.ts';
import { washWarnings } from './wash-warnings.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

/** `wash`: log a load that went through the baths. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  const build = ({ shop }: Bench): Body => washBody(args, options, shop);
  if (options.timed === true) {
    const { runTimed } = await import('./wash-timed.ts');
    return runTimed(args, options, context, { build, tell: tellWash });
  }
  tellWash(
    context,
    await writeEvent(context, options, build, { before: options.at !== undefined, short: true }),
  );
  return 0;
}

/** What a wash that was just logged did to the baths. */
function tellWash(context: Context, logged: Logged): void {
  const wash = logged.event as WashEvent;
  const outcome = logged.step!.wash!;
  const last = logged.status.lastWash!;
  const isLast = last.id === wash.id;
  const carryG = isLast ? last.carryG : best(outcome.carryG);
  const cases = casesWords(wash);
  reportBack(context, logged, {
    understood: washWords(wash, logged.shop) + (cases ? `; ${cases}` : ''),
    above: [carryLine(wash, carryG, logged.status)],
    below: [...leftLine(logged.status), dryingLine(wash, logged.shop)],
    warnings: washWarnings(wash, logged),
    data: {
      carry_g: carryG,
      drag_ml: outcome.dragMl,
      residue_ug_per_cm2: isLast ? last.residueUgPerCm2 : best(outcome.residueUgPerCm2),
      area_cm2: outcome.areaCm2,
    },
  });
}
