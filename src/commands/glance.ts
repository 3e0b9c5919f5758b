/** The ledger at a glance: the short way, from where an earlier replay had come to, or else the whole of it. */
import { readFileSync } from 'node:fs';
import { openShop } from '../bath/shop.ts';
import { settle } from '../ledger/settle.ts';
import { catalogue } from '../substance/catalogue.ts';
import { type Ahead, aheadOf, type Glance } from './ahead.ts';
import type { Context } from './context.ts';
import { keptOf, settledWith, shorten, toKeep } from './stages.ts';
import { tellRefused } from './tell.ts';

export interface Glanced {
  glance: Glance;
  ahead: Ahead;
  /** Keeps where the replay came to, for the next; to be called when the command has answered. */
  keep(): void;
}

/**
 * Opens the ledger, replays it, and tells what cannot have happened.
 *
 * @param warn - as that of `context.open`
 * @throws Fault, as `context.open` does
 */
export async function glanceAt(context: Context, { warn = true } = {}): Promise<Glanced> {
  return (await shortWay(context)) ?? wholeWay(context, warn);
}

async function wholeWay(context: Context, warn: boolean): Promise<Glanced> {
  const opened = await context.open({ warn });
  const { path, file, settled, bytes } = opened;
  const keeping = toKeep({ path, bytes, file, settled });
  const ahead = aheadOf({ ...opened, stages: keeping ? { halt: keeping.halt } : {} });
  await tellRefused(context, opened, ahead.status.replayed.refused);
  return { glance: opened, ahead, keep: () => keeping?.write() };
}

/** Undefined where there is no checkpoint that fits, or there is anything to tell of the ledger. */
async function shortWay(context: Context): Promise<Glanced | undefined> {
  const { path } = context.ledger();
  const kept = keptOf(path);
  const bytes = kept && bytesAt(path);
  const short = bytes && (await shorten(kept, bytes));
  if (!short) return undefined;
  const { file, checkpoint } = short;
  const shop = openShop(file.header!);
  context.useShop(shop);
  const clockMs = await context.clockMs();
  const own = await settle(file.events, clockMs, file.header, catalogue);
  const reached = checkpoint.reached();
  const settled = settledWith(reached, checkpoint, own, clockMs);
  if (!settled) return undefined;
  const { entries } = reached;
  const keeping = toKeep({ path, bytes, file, settled: own, short: { checkpoint, entries } });
  const stages = { reached, ...(keeping ? { halt: keeping.halt } : {}) };
  const ahead = aheadOf({ shop, settled, clockMs, stages });
  if (ahead.status.replayed.refused.length > 0) return undefined;
  return { glance: { path, shop, clockMs, settled }, ahead, keep: () => keeping?.write() };
}

/** Undefined where it cannot be read, which the whole way tells. */
function bytesAt(path: string): Uint8Array | undefined {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}
