import type { WashEvent } from '../ledger/event.ts';
import type { Line } from '../render/echo.ts';
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
  const several = await catchUp(args, options, context);
  if (several !== undefined) return several;
  const meshes = options.mesh === undefined ? undefined : await measured(args, options);
  if (meshes && !(await agreedTo(meshes, options, context))) return 0;
  const again = options.again === true ? await import('./wash-again.ts') : undefined;
  let of: WashEvent | undefined;
  const build = (bench: Bench): Body => {
    if (!again) return washBody(args, options, bench.shop, meshes);
    const once = again.repeated(args, options, bench, meshes);
    of = once.of;
    return once.body;
  };
  const tell = (to: Context, logged: Logged): void => {
    const lines = of && again ? [again.againLine(of)] : [];
    tellWash(to, logged, { meshes, lines, data: of ? { again_of: of.id } : {} });
  };
  if (options.timed === true) {
    const { runTimed } = await import('./wash-timed.ts');
    return runTimed(args, options, context, { build, tell });
  }
  tell(context, await writeEvent(context, options, build, { before: options.at !== undefined, short: true }));
  return 0;
}

/** Several washes at once: `--lines`, `--about`. */
async function catchUp(args: string[], options: Options, context: Context): Promise<number | undefined> {
  if (options.lines !== undefined) return (await import('./wash-lines.ts')).runLines(args, options, context);
  if (options.about !== undefined || options.since !== undefined || options.until !== undefined)
    return (await import('./wash-about.ts')).runAbout(args, options, context);
  return undefined;
}

/** On a terminal a size that looks like another unit is asked about. */
async function agreedTo({ unlikely }: MeshLoad, { dryRun }: Options, context: Context): Promise<boolean> {
  if (unlikely.length === 0 || dryRun === true || !context.canAsk) return true;
  for (const text of unlikely) context.note(`Note: ${text}`);
  if (await context.confirm('Log it as it is?')) return true;
  context.note('Nothing was logged');
  return false;
}

async function measured(args: string[], options: Options): Promise<MeshLoad> {
  const { measureLoad } = await import('./wash-mesh.ts');
  return measureLoad(args, options);
}

/** What is told besides. */
interface Besides {
  meshes: MeshLoad | undefined;
  lines: Line[];
  data: Record<string, unknown>;
}

/** What a wash that was just logged did to the baths. */
function tellWash(context: Context, logged: Logged, { meshes, lines, data }: Besides): void {
  const wash = logged.event as WashEvent;
  const { wash: outcome, washed } = logged.step!;
  const last = logged.status.lastWash!;
  const { carryG, residueUgPerCm2 } = last.id === wash.id ? last : washed!;
  const cases = casesWords(wash);
  reportBack(context, logged, {
    understood: washWords(wash, logged.shop) + (cases ? `; ${cases}` : ''),
    above: [...lines, ...(meshes?.lines ?? []), carryLine(wash, carryG, logged.status)],
    below: [...leftLine(logged.status), dryingLine(wash, logged.shop)],
    warnings: [...(meshes?.warnings ?? []), ...washWarnings(wash, logged)],
    data: {
      carry_g: carryG,
      drag_ml: outcome!.dragMl,
      residue_ug_per_cm2: residueUgPerCm2,
      area_cm2: outcome!.areaCm2,
      ...meshes?.document(),
      ...data,
    },
  });
  meshes?.tellPart(context, logged.path, logged.shop);
}
