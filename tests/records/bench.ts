/** A bench for records: drafts replayed with learning, movements kept. */
import { replay } from '../../src/bath/replay.ts';
import { openShop } from '../../src/bath/shop.ts';
import { believe } from '../../src/belief/believe.ts';
import type { Header } from '../../src/ledger/header.ts';
import { type Movements, movementsOf } from '../../src/records/movements.ts';
import { type Stock, stockOf } from '../../src/records/stock.ts';
import { type Container, type Waste, wasteOf } from '../../src/records/waste.ts';
import { type Draft, entriesOf, PAIR, START_MS } from '../bath/bench.ts';

const MS_PER_HOUR = 3_600_000;

export const at = (hour: number): number => START_MS + hour * MS_PER_HOUR;

/** Months of UTC, for a shop there. */
const utcMonth = (ms: number): number => {
  const when = new Date(ms);
  return Date.UTC(when.getUTCFullYear(), when.getUTCMonth(), 1);
};

/** What is kept of drafts, by default at the last of them. */
export function recordsOf(
  drafts: readonly Draft[],
  { header = PAIR, clockHour, learns = false }: Asked = {},
) {
  const shop = openShop(header);
  const entries = entriesOf(drafts);
  const clockMs = clockHour === undefined ? (entries.at(-1)?.atMs ?? START_MS) : at(clockHour);
  const movements = movementsOf();
  const options = { watch: movements.watch };
  const replayed = learns
    ? believe(shop, entries, clockMs, options).replayed
    : replay(shop, entries, clockMs, options);
  const stock = stockOf(shop, entries, movements, clockMs);
  const waste = wasteOf(entries, movements, clockMs, utcMonth);
  return { shop, entries, movements: movements as Movements, replayed, stock, waste };
}

interface Asked {
  header?: Header;
  clockHour?: number;
  /** With readings, as the commands do. */
  learns?: boolean;
}

export function ofSolvent(stock: readonly Stock[], solvent: string): Stock {
  return stock.find((one) => one.solvent === solvent)!;
}

/** The latest filling of a container. */
export function latest({ containers }: Waste, name: string | null): Container {
  return containers.findLast(({ container }) => container === name)!;
}
