/**
 * Waste: which container holds what and for how long, and how much arose in each month.
 */
import type { Entry, RecordEvent } from '../ledger/event.ts';
import { type Filling, openFilling, putInto, reclaimFrom, takeAway } from './container.ts';
import { type MonthOfWaste, monthsOf } from './months.ts';
import type { Movements } from './movements.ts';

/** One filling of a container, at the clock. A container used again after it was emptied is a filling of its own. */
export interface Container extends Filling {
  /** Null when its capacity is not known; above 1 when more was put in than it takes. */
  fullShare: number | null;
  /** From its opening to the clock, or until it was closed. Null for what is not assigned to a container. */
  ageDays: number | null;
}

export interface Waste {
  /** By the time of opening; what is not assigned to a container has the name null, and is absent when there is none. */
  containers: Container[];
  /** Resin rinsed off into the tray, wherever it went from there, g. It is in no container. */
  trayG: number;
  /** Those with waste, oldest first. */
  months: MonthOfWaste[];
}

type WasteRecord = Extract<RecordEvent, { what: 'waste' | 'reclaim' }>;

const MS_PER_DAY = 86_400_000;

/**
 * Containers and months. Volumes are added as they were at 20 °C when drained; nothing evaporates from a closed container.
 *
 * @param entries - those that were replayed
 * @param movements - of that replay
 * @param monthStartOf - the start of a moment's month in the shop's zone
 */
export function wasteOf(
  entries: readonly Entry[],
  movements: Pick<Movements, 'wastes' | 'washes'>,
  clockMs: number,
  monthStartOf: (ms: number) => number,
): Waste {
  return {
    containers: containersOf(entries, movements, clockMs),
    trayG: movements.washes.reduce((sum, { trayG }) => sum + trayG, 0),
    months: monthsOf(movements, monthStartOf),
  };
}

/**
 * The containers alone.
 *
 * @param entries - those that were replayed; what neither drains nor is about waste may be left out
 */
export function containersOf(
  entries: readonly Entry[],
  { wastes }: Pick<Movements, 'wastes'>,
  clockMs: number,
): Container[] {
  const shelf = new Shelf();
  let next = 0;
  for (const { event, atMs } of entries) {
    for (let drained = wastes[next]; drained?.eventId === event.id; drained = wastes[next]) {
      putInto(shelf.inUse(drained.into ?? null, atMs), drained, atMs);
      next += 1;
    }
    if (event.what === 'waste' || event.what === 'reclaim') note(event, atMs, shelf);
  }
  return shelf.fillings.map((one) => atClock(one, clockMs));
}

/** Fillings in the order of their opening, and the latest of each container. */
class Shelf {
  readonly fillings: Filling[] = [];
  private readonly latest = new Map<string | null, Filling>();

  /** The latest filling of a container, a new one when it was never used. */
  latestOf(container: string | null, atMs: number): Filling {
    return this.latest.get(container) ?? this.open(container, atMs);
  }

  /** The filling that takes liquid now: a new one when the latest was closed. */
  inUse(container: string | null, atMs: number): Filling {
    const latest = this.latestOf(container, atMs);
    return latest.closed === null ? latest : this.open(container, atMs);
  }

  private open(container: string | null, atMs: number): Filling {
    const filling = openFilling(container, atMs);
    // The same can is as large as before.
    filling.capacityMl = this.latest.get(container)?.capacityMl ?? null;
    this.fillings.push(filling);
    this.latest.set(container, filling);
    return filling;
  }
}

function note(event: WasteRecord, atMs: number, shelf: Shelf): void {
  if (event.what === 'reclaim') {
    reclaimFrom(shelf.latestOf(event.container, atMs), event.ml, atMs);
    return;
  }
  const opens = event.action === 'opened';
  const filling = opens ? shelf.inUse(event.container, atMs) : shelf.latestOf(event.container, atMs);
  if (event.capacity_l !== undefined) filling.capacityMl = event.capacity_l * 1000;
  filling.lastMs = atMs;
  if (event.action !== 'opened')
    takeAway(filling, { action: event.action, ...(event.ml === undefined ? {} : { ml: event.ml }) }, atMs);
}

function atClock(filling: Filling, clockMs: number): Container {
  const { capacityMl, heldMl } = filling;
  const age = ((filling.closedMs ?? clockMs) - filling.openedMs) / MS_PER_DAY;
  return {
    ...filling,
    fullShare: capacityMl === null ? null : heldMl / capacityMl,
    ageDays: filling.container === null ? null : age,
  };
}
