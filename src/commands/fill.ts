import type { FillEvent } from '../ledger/event.ts';
import { volume } from '../render/format.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { readLiquid } from './liquid-words.ts';
import { bathOf, logMove } from './move.ts';
import type { Bench, Body } from './write.ts';

/** `fill`: fresh solvent into an empty bath. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  return logMove(
    context,
    options,
    (bench) => body(args, bench),
    ({ event }) => {
      const { bath, ml, solvent } = event as FillEvent;
      return `${bath} bath filled with ${volume(ml)} of ${solvent}`;
    },
  );
}

function body([name = '', ...words]: string[], { shop }: Bench): Body {
  const bath = bathOf(name, shop);
  const { ml, to, all, solvent } = readLiquid(words, shop);
  const markMl = shop.tubs[shop.tubPlace.get(bath)!]!.markMl;
  const amount = to === 'mark' ? markMl : ml;
  if (amount === undefined || all || solvent === undefined) {
    throw usage(
      `Cannot fill the ${bath} bath, ${solvent === undefined ? 'the solvent is' : 'the amount is'} missing`,
      `write it like: bathbook fill ${bath} 4 L ipa99; solvents are ${[...shop.solvents.keys()].join(', ')}`,
    );
  }
  return { what: 'fill', bath, solvent, ml: amount };
}
