/** The ledger at a glance: the short way, from where an earlier replay had come to, or else the whole of it. */
import { openSync, statSync } from 'node:fs';
import { openShop } from '../bath/shop.ts';
import { closeAnyway } from '../ledger/append-close.ts';
import { FileSpans } from '../ledger/append-span.ts';
import { settle } from '../ledger/settle.ts';
import { catalogue } from '../substance/catalogue.ts';
import { type Ahead, aheadOf, type Glance } from './ahead.ts';
import type { Context } from './context.ts';
import { type ClockOf, type Short, type Stages, settledWith, shorten, toKeep } from './stages.ts';
import { tellRefused } from './tell.ts';

export interface Glanced {
  glance: Glance;
  ahead: Ahead;
  /** Keeps where the replay came to, for the next; to be called when the command has answered. */
  keep(): void;
}

interface Wish {
  /** As that of `context.open`. */
  warn?: boolean;
  /** Stock and waste are asked for: without, the entries and movements are those of the washes lately alone. */
  records?: boolean;
}

/**
 * Opens the ledger, replays it, and tells what cannot have happened.
 *
 * @throws Fault, as `context.open` does
 */
export async function glanceAt(
  context: Context,
  { warn = true, records = false }: Wish = {},
): Promise<Glanced> {
  return (await shortWay(context, records)) ?? wholeWay(context, warn);
}

async function wholeWay(context: Context, warn: boolean): Promise<Glanced> {
  const opened = await context.open({ warn });
  const { path, file, settled, bytes } = opened;
  const keeping = toKeep({ path, bytes: () => bytes, file, own: settled, clockMs: opened.clockMs });
  const ahead = aheadOf({ ...opened, stages: keeping ? { halt: keeping.halt } : {} });
  await tellRefused(context, opened, ahead.status.replayed.refused);
  return { glance: opened, ahead, keep: () => keeping?.write() };
}

/** Undefined where there is no checkpoint that fits, or there is anything to tell of the ledger. */
async function shortWay(context: Context, wantsRecords: boolean): Promise<Glanced | undefined> {
  const { path } = context.ledger();
  const found = await shortAt(path, (header) => context.clockIn(openShop(header)));
  if (!found) return undefined;
  const { short, close } = found;
  const { file, checkpoint } = short;
  const shop = openShop(file.header!);
  const clockMs = await context.clockIn(shop);
  const own = await settle(file.events, clockMs, file.header, catalogue);
  const settled = settledWith(short, own, clockMs);
  if (!settled) return undefined;
  const keeping = toKeep({ path, file, own, clockMs, short });
  const records = wantsRecords ? checkpoint.records() : undefined;
  const stages: Stages = {
    reached: checkpoint.reached(),
    done: short.lately.length,
    ...(records ? { records } : {}),
    ...(keeping ? { halt: keeping.halt } : {}),
  };
  const ahead = aheadOf({ shop, settled, clockMs, stages });
  if (ahead.status.replayed.refused.length > 0) return undefined;
  const asked = records ? { ...settled, entries: [...records.entries, ...own.entries] } : settled;
  const keep = () => {
    keeping?.write();
    close();
  };
  return { glance: { path, shop, clockMs, settled: asked }, ahead, keep };
}

/** Undefined where there is no short way, or the ledger cannot be read, which the whole way tells. */
async function shortAt(
  path: string,
  clockOf: ClockOf,
): Promise<{ short: Short; close: () => void } | undefined> {
  try {
    if (!statSync(path).isFile()) return undefined;
    const file = openSync(path, 'r');
    const close = () => closeAnyway(file);
    const short = await shorten(path, new FileSpans(file), clockOf);
    if (short) return { short, close };
    close();
    return undefined;
  } catch (error) {
    if (typeof (error as NodeJS.ErrnoException).errno === 'number') return undefined;
    throw error;
  }
}
