/** What is due in several shops, in one list. */
import { labelsOf, manyDocument, type OneLedger } from './many.ts';
import type { Table } from './table.ts';

/** What is due in one ledger, its lines as it would print them alone. */
export interface LedgerDue {
  shop: string;
  asOf: string;
  lines: readonly string[];
  /** Exit code for it alone: 0 nothing, 1 soon, 2 change or stop, 3 could not judge. */
  code: number;
  /** Its own document. */
  data: unknown;
}

type Ledgers = readonly OneLedger<LedgerDue>[];

/** For a mail or a pipe: each line begins with the file it is about. */
export function manyDueLines(ledgers: Ledgers): string[] {
  return urgentFirst(ledgers).flatMap(({ typed, found }) =>
    (found?.lines ?? []).map((line) => `${typed}: ${line}`),
  );
}

/** On a terminal: the shop once, its lines beside it. */
export function manyDueTable(ledgers: Ledgers): Table {
  const sorted = urgentFirst(ledgers);
  const labels = labelsOf(sorted, ({ shop }) => shop);
  return {
    head: ['shop', 'due'],
    rows: sorted.flatMap(({ found }, place) =>
      (found?.lines ?? []).map((line, nth) => [nth === 0 ? labels[place]! : '', line]),
    ),
  };
}

/** Those with something to change before those with something soon; else as typed. */
function urgentFirst(ledgers: Ledgers): OneLedger<LedgerDue>[] {
  const rank = ({ found }: OneLedger<LedgerDue>) => (found?.code === 2 ? 0 : 1);
  return [...ledgers].sort((one, other) => rank(one) - rank(other));
}

/** The data of `bathbook/due/1` for several ledgers. */
export function manyDueDocument(ledgers: Ledgers): Record<string, unknown> {
  return manyDocument(ledgers, (found) => found);
}
