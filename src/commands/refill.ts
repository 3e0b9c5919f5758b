import type { RefillEvent } from '../ledger/event.ts';
import { volume } from '../render/format.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { notReclaimed } from './last-poured.ts';
import { askAndLogMove, bathOf, intoOption } from './move.ts';
import { quantityOption, solventOption } from './values.ts';

/** `refill`: one bath drained and filled fresh. */
export async function run([name = '']: string[], options: Options, context: Context): Promise<number> {
  return askAndLogMove(
    context,
    options,
    async (bench) => ({
      what: 'refill',
      bath: bathOf(name, bench.shop),
      ...(name === 'clean' ? await notReclaimed(bench) : {}),
      ...solventOption(options, bench.shop),
      ...quantityOption(options, 'ml', 'volume', 'ml'),
      ...intoOption(options),
    }),
    ({ event, step }) => {
      const { bath, into } = event as RefillEvent;
      const fresh = `${volume(step!.move!.pouredMl)} of fresh ${step!.move!.solvent}`;
      return `${bath} bath to waste${into ? ` (${into})` : ''}, filled with ${fresh}`;
    },
  );
}
