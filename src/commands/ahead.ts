/** What commands that look ahead need of a ledger: the status, the pace, stock and waste, in one replay. */
import type { Step } from '../bath/replay.ts';
import type { Belief } from '../belief/belief.ts';
import { type Outlook, outlookOf } from '../outlook/outlook.ts';
import type { Pace } from '../outlook/pace.ts';
import { Since } from '../outlook/since.ts';
import { type Status, statusOf } from '../outlook/status.ts';
import { type Supply, supplyOf } from '../outlook/supply.ts';
import { type Movements, movementsOf } from '../records/movements.ts';
import { type Stock, stockOf } from '../records/stock.ts';
import { type Container, containersOf } from '../records/waste.ts';
import type { Opened } from './context.ts';
import { localDays } from './days.ts';
import { reclaimedSolvents } from './reclaim-clean.ts';
import { joined, type Stages } from './stages.ts';

export interface Ahead {
  status: Status;
  since: Since;
  movements: Movements;
  /** The shop's own; null when nothing was washed in the last 28 days. */
  pace: Pace | null;
}

/** What of a ledger is needed for it. */
export type Glance = Pick<Opened, 'path' | 'shop' | 'clockMs'> & { settled: Counted };
type Counted = Pick<Opened['settled'], 'entries' | 'later'>;

/** Replays the ledger once, or from where a replay had come to, and keeps what happened on the way; more watchers may look on. */
export function aheadOf(
  { shop, settled, clockMs, stages = {} }: Omit<Glance, 'path'> & { stages?: Stages },
  ...watchers: ((step: Step, belief: Belief) => void)[]
): Ahead {
  const { reached, done = 0, records, halt } = stages;
  const since = new Since(shop, reached?.since);
  const own = movementsOf();
  const watch = (step: Step, belief: Belief) => {
    since.watch(step);
    own.watch(step);
    for (const other of watchers) other(step, belief);
  };
  const status = statusOf(shop, settled.entries, clockMs, {
    watch,
    days: localDays,
    ...(reached ? { from: reached.believed, done } : {}),
    ...(halt
      ? { halt: { at: halt.at, seen: (believed) => halt.seen({ believed, since: since.met }, own) } }
      : {}),
  });
  since.look(status.replayed.baths, clockMs);
  const movements = { ...own, ...joined(records?.movements, own) };
  return { status, since, movements, pace: status.plan?.pace ?? null };
}

/** The outlook at a pace, and whether the stock lasts. */
export function lookAhead(
  { status, movements }: Ahead,
  opened: Glance,
  on: { pace: Pace; leadDays: number; partsPerLoad?: number },
): { outlook: Outlook | null; supply: Supply | null } {
  const { pace, leadDays, partsPerLoad } = on;
  const parts = partsPerLoad === undefined ? {} : { partsPerLoad };
  const outlook = outlookOf(status, { pace, days: localDays, ...parts });
  const stock = stockAt(movements, opened);
  const solvent = freshOf(movements, opened) ?? status.replayed.solvent;
  return { outlook, supply: supplyOf(outlook, { solvent, stock, leadDays }) };
}

/** What is on hand at the clock. */
export function stockAt(movements: Movements, { shop, settled, clockMs }: Glance): Stock[] {
  return stockOf(shop, settled.entries, movements, clockMs);
}

/** The solvent that is ordered: the one poured last that is bought, not reclaimed. */
function freshOf({ pours }: Movements, { settled }: Glance): string | undefined {
  const reclaimed = reclaimedSolvents(settled.entries);
  return pours.findLast(({ solvent }) => !reclaimed.has(solvent))?.solvent;
}

/** Waste containers at the clock. */
export function containersAt({ movements }: Ahead, { settled, clockMs }: Glance): Container[] {
  return containersOf(settled.entries, movements, clockMs);
}
