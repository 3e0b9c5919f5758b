import type { WashEvent } from '../ledger/event.ts';
import { best } from '../outlook/quantity.ts';
import { carryLine, casesWords, dryingLine, leftLine, washWords } from '../render/wash.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { reportBack } from './report-back.ts';
import { washBody } from './wash-body.ts';
import type { MeshLoad } from './wash-mesh.ts';
import { washWarnings } from './wash-warnings.ts';
import { type Bench, type Body, type Logged, writeEvent } from './write.ts';

/** `wash`: log a load that went through the baths. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  const meshes = options.mesh === undefined ? undefined : await measured(args, options);
  const build = ({ shop }: Bench): Body => washBody(args, options, shop, meshes);
  const tell = (to: Context, logged: Logged): void => tellWash(to, logged, meshes);
  if (options.timed === true) {
    const { runTimed } = await import('./wash-timed.ts');
    return runTimed(args, options, context, { build, tell });
  }
  tell(context, await writeEvent(context, options, build, { before: options.at !== undefined, short: true }));
  return 0;
}

async function measured(args: string[], options: Options): Promise<MeshLoad> {
  const { measureLoad } = await import('./wash-mesh.ts');
  return measureLoad(args, options);
}

/** What a wash that was just logged did to the baths. */
function tellWash(context: Context, logged: Logged, meshes: MeshLoad | undefined): void {
  const wash = logged.event as WashEvent;
  const outcome = logged.step!.wash!;
  const last = logged.status.lastWash!;
  const isLast = last.id === wash.id;
  const carryG = isLast ? last.carryG : best(outcome.carryG);
  const cases = casesWords(wash);
  reportBack(context, logged, {
    understood: washWords(wash, logged.shop) + (cases ? `; ${cases}` : ''),
    above: [...(meshes?.lines ?? []), carryLine(wash, carryG, logged.status)],
    below: [...leftLine(logged.status), dryingLine(wash, logged.shop)],
    warnings: [...(meshes?.warnings ?? []), ...washWarnings(wash, logged)],
    data: {
      carry_g: carryG,
      drag_ml: outcome.dragMl,
      residue_ug_per_cm2: isLast ? last.residueUgPerCm2 : best(outcome.residueUgPerCm2),
      area_cm2: outcome.areaCm2,
      ...meshes?.document(),
    },
  });
  meshes?.tellPart(context, logged.path, logged.shop);
}
