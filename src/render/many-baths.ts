/** The baths of several shops in one table. */
import type { BathEstimate } from '../outlook/estimate.ts';
import type { Status } from '../outlook/status.ts';
import { bathsRecords, verdictText } from './baths.ts';
import { banded } from './format.ts';
import { labelsOf, manyDocument, type OneLedger } from './many.ts';
import type { Paint } from './paint.ts';
import { aligned, type Table } from './table.ts';
import { fill, wrap } from './wrap.ts';

/** The baths of one ledger, with its times as text in its own zone. */
export interface LedgerBaths {
  status: Status;
  /** For people: Fri 2026-11-20 17:30. */
  when: string;
  asOf: string;
  advice: string;
  /** Its own document. */
  data: unknown;
}

type Ledgers = readonly OneLedger<LedgerBaths>[];

/** A name is wrapped into this where the terminal is narrow. */
const NAME_WIDTH = 15;
/** From these widths on there is room for the water, and for the level. */
const ROOM_FOR = { water: 78, level: 88 };

/** For people: a row a bath, then the advice for each shop. */
export async function manyBathsText(
  ledgers: Ledgers,
  view: { paint: Paint; width: number },
): Promise<string> {
  const { paint, width } = view;
  const labels = labelsOf(ledgers, ({ status }) => status.shop.name);
  const columns = COLUMNS.filter(({ from }) => width >= from);
  const rows = ledgers.flatMap(({ found }, place) => {
    const name = nameLines(labels[place]!, width);
    if (found === undefined)
      return [[name.join('\n'), '-', paint.verdict('stop', 'not read'), ...columns.map(() => '')]];
    const { estimates } = found.status;
    const last = estimates.length - 1;
    return estimates.map((bath, nth) => [
      name.slice(nth, nth === last ? undefined : nth + 1).join('\n'),
      bath.bath,
      paint.verdict(bath.verdict, verdictText(bath)),
      ...columns.map(({ of }) => of(bath)),
    ]);
  });
  const head = ['shop', 'bath', 'verdict', ...columns.map((column) => column.head)];
  const advice = ledgers.map(({ found }, place) =>
    wrap(`${labels[place]}${found ? `, ${found.when}: ${found.advice}` : ': could not be read'}.`, width),
  );
  const brackets = 'In brackets: 5 to 95 %, nine chances in ten. Times are those of each shop.';
  const table = await aligned({ head, rows }, paint);
  return [table, '', ...advice, '', paint.faint(wrap(brackets, width))].join('\n');
}

interface Column {
  head: string;
  /** Columns of the terminal from which on it is shown. */
  from: number;
  of(bath: BathEstimate): string;
}

const COLUMNS: readonly Column[] = [
  { head: 'resin, wt%', from: 0, of: ({ resinWtPct }) => (resinWtPct ? banded(resinWtPct) : '-') },
  {
    head: 'water, wt%',
    from: ROOM_FOR.water,
    of: ({ waterWtPct }) => (waterWtPct ? banded(waterWtPct) : '-'),
  },
  { head: 'level, L', from: ROOM_FOR.level, of: ({ volumeMl }) => banded({ p50: volumeMl.p50 / 1000 }) },
];

/** A name in one line, or in several that leave room for the figures; a long word is cut at any letter. */
function nameLines(name: string, width: number): string[] {
  if (width >= ROOM_FOR.level && name.length <= 2 * NAME_WIDTH) return [name];
  return fill(name, NAME_WIDTH)
    .split('\n')
    .flatMap((line) => line.match(new RegExp(`.{1,${NAME_WIDTH}}`, 'gu')) ?? ['']);
}

/** Every column, as plain text. */
export function manyBathsTable(ledgers: Ledgers): Table {
  const labels = labelsOf(ledgers, ({ status }) => status.shop.name);
  return {
    head: ['shop', 'bath', 'verdict', ...COLUMNS.map((column) => column.head)],
    rows: ledgers.flatMap(({ found }, place) => {
      const label = labels[place]!;
      if (found === undefined) return [[label, '-', 'not read', ...COLUMNS.map(() => '')]];
      return found.status.estimates.map((bath) => [
        label,
        bath.bath,
        verdictText(bath),
        ...COLUMNS.map(({ of }) => of(bath)),
      ]);
    }),
  };
}

/** For a pipe: one bath a line, the file first; a ledger that could not be read has a line with the verdict `unread`. */
export function manyBathsRecords(ledgers: Ledgers): string {
  let head = '';
  const lines = ledgers.flatMap(({ typed, found }) => {
    if (found === undefined) return [`${cell(typed)}\t\tunread`];
    const [first, ...baths] = bathsRecords(found.status).split('\n');
    head = `ledger\t${first}`;
    return baths.map((line) => `${cell(typed)}\t${line}`);
  });
  const columns = head === '' ? 3 : head.split('\t').length;
  const full = lines.map((line) => line + '\t'.repeat(columns - line.split('\t').length));
  return [head === '' ? 'ledger\tbath\tverdict' : head, ...full].join('\n');
}

function cell(text: string): string {
  return text.replaceAll(/\s+/g, ' ');
}

/** The data of `bathbook/baths/1` for several ledgers. */
export function manyBathsDocument(ledgers: Ledgers): Record<string, unknown> {
  return manyDocument(ledgers, ({ status, asOf, data }) => ({ shop: status.shop.name, asOf, data }));
}
