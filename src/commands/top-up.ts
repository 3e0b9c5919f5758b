import type { TopUpEvent } from '../ledger/event.ts';
import { volume } from '../render/format.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { lastPoured } from './last-poured.ts';
import { readLiquid } from './liquid-words.ts';
import { bathOf, logMove } from './move.ts';
import { solventOption } from './values.ts';
import type { Bench, Body } from './write.ts';

/** `top-up`: more solvent into a bath, from stock or from the clean bath. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  return logMove(
    context,
    options,
    (bench) => body(args, options, bench),
    ({ event }) => {
      const { bath, ml, from, solvent } = event as TopUpEvent;
      const source = from === 'clean' ? 'from the clean bath' : `with ${solvent}`;
      return `${bath} bath topped up ${ml === undefined ? 'to its mark' : `by ${volume(ml)}`} ${source}`;
    },
  );
}

async function body([name = '', ...words]: string[], options: Options, bench: Bench): Promise<Body> {
  const { shop } = bench;
  const bath = bathOf(name, shop);
  const { ml, to, all, solvent } = readLiquid(words, shop);
  if (all || (ml === undefined) === (to === undefined)) {
    throw usage(
      `Cannot top up the ${bath} bath, say how much`,
      `bathbook top-up ${bath} to mark; or bathbook top-up ${bath} 250 mL`,
    );
  }
  const from = options.from === 'clean' ? 'clean' : undefined;
  if (from && bath === 'clean')
    throw usage('Cannot top up the clean bath from itself', 'leave --from out to take it from stock');
  if (from && !shop.tubPlace.has('clean'))
    throw usage('Cannot top up from the clean bath, the ledger has none', 'leave --from out');
  const named = solvent === undefined ? solventOption(options, shop) : { solvent };
  if (from && named.solvent)
    throw usage('Cannot name a solvent for liquid from the clean bath', 'leave the solvent or --from out');
  return {
    what: 'top-up',
    bath,
    ...(from || named.solvent ? named : { solvent: await lastPoured(bench, bath) }),
    ...(ml === undefined ? { to: 'mark' } : { ml }),
    ...(from ? { from } : {}),
  };
}
