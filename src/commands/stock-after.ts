/** Stock and waste as they are with what a command has just logged. */
import { believe } from '../belief/believe.ts';
import type { Entry, Written } from '../ledger/event.ts';
import { settle } from '../ledger/settle.ts';
import { type Movements, movementsOf } from '../records/movements.ts';
import { type Stock, stockOf } from '../records/stock.ts';
import { type Waste, wasteOf } from '../records/waste.ts';
import { catalogue } from '../substance/catalogue.ts';
import { monthStarts } from './report-clock.ts';
import type { Bench, Logged } from './write.ts';

export interface Kept {
  entries: readonly Entry[];
  movements: Movements;
  stock: Stock[];
  waste: Waste;
}

/** At the clock, with the new event. */
export async function keptAfter(bench: Bench, logged: Logged): Promise<Kept> {
  const { file, shop, clockMs, atMs } = bench;
  const place = file.events.length;
  const added = logged.written.map(
    ({ event }, nth): Written => ({ event, atMs, line: 0, place: place + nth }),
  );
  const { entries } = await settle([...file.events, ...added], clockMs, file.header, catalogue);
  return keptAt(shop, entries, clockMs);
}

/** At the time of the new event, without it. */
export function keptBefore({ settled, shop, atMs }: Bench): Kept {
  const entries = settled.entries.filter((entry) => entry.atMs <= atMs);
  return keptAt(shop, entries, atMs);
}

function keptAt(shop: Bench['shop'], entries: readonly Entry[], clockMs: number): Kept {
  const movements = movementsOf();
  believe(shop, entries, clockMs, { watch: movements.watch });
  return {
    entries,
    movements,
    stock: stockOf(shop, entries, movements, clockMs),
    waste: wasteOf(entries, movements, clockMs, monthStarts()),
  };
}
