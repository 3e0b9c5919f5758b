/**
 * What the night has to say, as data: the state of the baths, what is due, and what happened in a period.
 */
import type { Compared } from '../belief/belief.ts';
import type { Entry, StockEvent, Written } from '../ledger/event.ts';
import type { Problem } from '../ledger/problem.ts';
import type { Matter } from '../outlook/due.ts';
import type { Outlook } from '../outlook/outlook.ts';
import type { Status } from '../outlook/status.ts';
import type { Supply } from '../outlook/supply.ts';
import type { Look } from './inspections.ts';
import type { Movements } from './movements.ts';
import type { Change } from './report-changes.ts';
import { type Corrected, correctionsOf, type Late, lateOnes } from './report-corrections.ts';
import { isWithin, type Period } from './report-period.ts';
import { type Used, usedIn } from './report-solvent.ts';
import { resinInBand, type Washes } from './report-washes.ts';
import type { WasteReported } from './report-waste.ts';
import type { Stock } from './stock.ts';

export interface Report {
  period: Period;
  /** At the end of the period. */
  status: Status;
  /** False: a bath is empty or beyond the data, or the ledger is at odds; then nothing is said to be due. */
  judged: boolean;
  matters: readonly Matter[];
  outlook: Outlook | null;
  supply: Supply | null;
  washes: Washes;
  resinInG: ReturnType<typeof resinInBand>;
  /** Readings and weighed loads of the period, beside what was expected of them. */
  readings: Compared[];
  changes: readonly Change[];
  used: Used[];
  stock: readonly Stock[];
  /** Receipts and counts of the period. */
  receipts: Written<StockEvent>[];
  waste: WasteReported | null;
  /** Those of the period, beside their washes as far as these were looked at. */
  inspections: readonly Look[];
  corrections: Corrected[];
  late: Late[];
  odd: Odd;
}

/** What does not add up in the ledger. */
interface Odd {
  warnings: readonly Problem[];
  /** Warnings beyond those told. */
  moreWarnings: number;
  refused: Status['replayed']['refused'];
  /** Events after the clock. */
  later: number;
}

/**
 * Puts a report together from one replay up to the end of its period.
 *
 * @param events - of the whole file, for the corrections among them
 * @param entries - those that were replayed
 */
export function reportOf(
  on: Pick<
    Report,
    | 'period'
    | 'status'
    | 'judged'
    | 'matters'
    | 'outlook'
    | 'supply'
    | 'washes'
    | 'changes'
    | 'stock'
    | 'waste'
    | 'inspections'
  > & {
    events: readonly Written[];
    entries: readonly Entry[];
    voided: ReadonlyMap<string, string>;
    movements: Pick<Movements, 'pours'>;
    warnings: readonly Problem[];
    moreWarnings: number;
    later: number;
  },
): Report {
  const { events, entries, voided, movements, warnings, moreWarnings, later, ...known } = on;
  const { period, status, washes, stock } = on;
  const own = entries.slice(firstAfter(entries, period.fromMs));
  return {
    ...known,
    resinInG: resinInBand(washes, status.belief.ensemble),
    readings: status.belief.compared.filter(({ entry }) => isWithin(period, entry.atMs)),
    used: usedIn(movements.pours, stock, period),
    receipts: own.filter((one) => one.event.what === 'stock') as Written<StockEvent>[],
    corrections: correctionsOf(events, voided, period),
    late: lateOnes(entries, period),
    odd: { warnings, moreWarnings, refused: status.replayed.refused, later },
  };
}

/** Where the entries after a moment begin; they are in order of time. */
function firstAfter(entries: readonly Entry[], ms: number): number {
  let [low, high] = [0, entries.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (entries[middle]!.atMs > ms) high = middle;
    else low = middle + 1;
  }
  return low;
}
