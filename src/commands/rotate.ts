import type { RotateEvent } from '../ledger/event.ts';
import { volume } from '../render/format.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { notReclaimed } from './last-poured.ts';
import { askAndLogMove, intoOption } from './move.ts';
import { quantityOption, solventOption } from './values.ts';

/** `rotate`: dirty to waste, clean becomes dirty, clean filled fresh. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  return askAndLogMove(
    context,
    options,
    async (bench) => ({
      what: 'rotate',
      ...(await notReclaimed(bench)),
      ...solventOption(options, bench.shop),
      ...quantityOption(options, 'ml', 'volume', 'ml'),
      ...intoOption(options),
    }),
    ({ event, step }) => {
      const { into } = event as RotateEvent;
      const { pouredMl, makeUpMl = 0, solvent } = step!.move!;
      const madeUp = makeUpMl >= 0.5 ? ` (and ${volume(makeUpMl)} of ${solvent} up to its mark)` : '';
      const waste = `dirty bath to waste${into ? ` (${into})` : ''}`;
      return `${waste}, clean becomes dirty${madeUp}, clean filled with ${volume(pouredMl - makeUpMl)} of fresh ${solvent}`;
    },
  );
}
