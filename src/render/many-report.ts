/** The reports of several shops: the baths of all of them first, then one page after the other. */
import { count } from './format.ts';
import { labelsOf, type OneLedger } from './many.ts';
import { type LedgerBaths, manyBathsDocument, manyBathsTable, manyBathsText } from './many-baths.ts';
import type { Paint } from './paint.ts';
import { printable } from './printable.ts';
import { escaped, tableMarkdown } from './report-markdown.ts';
import { wrap } from './wrap.ts';

/** The report of one ledger, written in the time of its shop. */
export interface LedgerReport extends LedgerBaths {
  /** As text or Markdown; empty for a document. */
  page: string;
}

type Ledgers = readonly OneLedger<LedgerReport>[];

/** For a terminal and for a mail: a light rule before each page. */
export async function manyReportText(
  ledgers: Ledgers,
  view: { paint: Paint; width: number },
): Promise<string> {
  const { paint, width } = view;
  const unread = notRead(ledgers).map((text) => `- ${wrap(printable(text), width - 2, '  ')}`);
  return [
    paint.strong(titleOf(ledgers)),
    '',
    await manyBathsText(ledgers, view),
    ...(unread.length > 0 ? ['', paint.strong('Not read'), ...unread] : []),
    ...pagesOf(ledgers).map((page) => `\n${paint.faint('-'.repeat(width))}\n\n${page}`),
    '',
  ].join('\n');
}

export function manyReportMarkdown(ledgers: Ledgers): string {
  const { head, rows } = manyBathsTable(ledgers);
  const labels = labelsOf(ledgers, ({ status }) => status.shop.name);
  const advice = ledgers.flatMap(({ found }, place) =>
    found ? [`- ${escaped(`${labels[place]}, ${found.when}: ${found.advice}.`)}`] : [],
  );
  const unread = notRead(ledgers).map((text) => `- ${escaped(text)}`);
  const parts = [
    `# ${titleOf(ledgers)}`,
    tableMarkdown(head, rows),
    ...(advice.length > 0 ? [advice.join('\n')] : []),
    ...(unread.length > 0 ? [`## Not read\n\n${unread.join('\n')}`] : []),
    ...pagesOf(ledgers),
  ];
  return `${parts.join('\n\n')}\n`;
}

/** The data of `bathbook/report/1` for several ledgers. */
export function manyReportDocument(ledgers: Ledgers): Record<string, unknown> {
  return manyBathsDocument(ledgers);
}

function titleOf(ledgers: Ledgers): string {
  return `Reports of ${count(ledgers.length, 'ledger')}`;
}

function pagesOf(ledgers: Ledgers): string[] {
  return ledgers.flatMap(({ found }) => (found ? [found.page.trimEnd()] : []));
}

/** The file and the first of what is wrong with it, where people read who do not see the other stream. */
function notRead(ledgers: Ledgers): string[] {
  return ledgers.flatMap(({ typed, found, problems }) => {
    if (found) return [];
    const [first] = problems;
    const where = first?.line === undefined ? typed : `${typed}, line ${first.line}`;
    return [`${where}: ${first?.message ?? 'the program met a fault of its own'}`];
  });
}
