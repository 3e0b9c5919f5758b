import type { DrainEvent } from '../ledger/event.ts';
import { volume } from '../render/format.ts';
import type { Context } from './context.ts';
import type { Options } from './definition.ts';
import { usage } from './fault.ts';
import { readLiquid } from './liquid-words.ts';
import { bathOf, intoOption, logMove } from './move.ts';
import type { Bench, Body } from './write.ts';

/** `drain`: liquid out of a bath, to waste. */
export async function run(args: string[], options: Options, context: Context): Promise<number> {
  return logMove(
    context,
    options,
    (bench) => body(args, options, bench),
    ({ event }) => {
      const { bath, ml, to, into } = event as DrainEvent;
      const much =
        ml !== undefined
          ? `${volume(ml)} drained from the ${bath} bath`
          : to
            ? `${bath} bath drained to its mark`
            : `${bath} bath drained`;
      return `${much}${into ? ` into ${into}` : ', to waste'}`;
    },
  );
}

function body([name = '', ...words]: string[], options: Options, { shop }: Bench): Body {
  const bath = bathOf(name, shop);
  const { ml, to, all, solvent } = readLiquid(words, shop);
  const given = [ml, to, all].filter((one) => one !== undefined).length;
  if (solvent !== undefined || given !== 1) {
    throw usage(
      `Cannot drain the ${bath} bath, say how much`,
      `bathbook drain ${bath} all; or 200 mL; or to mark`,
    );
  }
  return {
    what: 'drain',
    bath,
    ...(ml === undefined ? {} : { ml }),
    ...(to ? { to } : {}),
    ...(all ? { all } : {}),
    ...intoOption(options),
  };
}
