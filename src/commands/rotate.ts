import type { RotateEvent } from '../ledger/event.ts';
import { volume } from '../render/format.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { askAndLogMove, intoOption } from './move.ts';
import { quantityOption, solventOption } from './values.ts';

/** `rotate`: dirty to waste, clean becomes dirty, clean filled fresh. */
export async function run(_args: string[], options: Options, context: Context): Promise<number> {
  return askAndLogMove(
    context,
    options,
    ({ shop }) => ({
      what: 'rotate',
      ...solventOption(options, shop),
      ...quantityOption(options, 'ml', 'volume', 'ml'),
      ...intoOption(options),
    }),
    ({ event, step }) => {
      const { into } = event as RotateEvent;
      const fresh = `${volume(step!.move!.pouredMl)} of fresh ${step!.move!.solvent}`;
      return `Dirty to waste${into ? ` (${into})` : ''}, clean becomes dirty, ${fresh}`;
    },
  );
}
