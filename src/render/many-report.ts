/** The reports of several shops: the baths of all of them first, then one page after the other. */
import { count } from './format.ts';
import { labelsOf, type OneLedger } from './many.ts';
import { type LedgerBaths, manyBathsDocument, manyBathsTable, manyBathsText } from './many-baths.ts';
import type { Paint } from './paint.ts';
import { printable } from './printable.ts';
import { escaped, tableMarkdown } from './report-markdown.ts';
import { wrap } from './wrap.ts';

/** The report of one ledger, written in the time of its shop. */
export interface LedgerReport<Page = string> extends LedgerBaths {
  /** What is due, a line a matter. */
  due: readonly string[];
  page: Page;
}

type Ledgers<Page = string> = readonly OneLedger<LedgerReport<Page>>[];

/** For a terminal and for a mail: a light rule before each page. */
export async function manyReportText(
  ledgers: Ledgers,
  view: { paint: Paint; width: number },
): Promise<string> {
  const { paint, width } = view;
  const list = (title: string, items: readonly string[]) =>
    items.length > 0
      ? ['', paint.strong(title), ...items.map((text) => `- ${wrap(printable(text), width - 2, '  ')}`)]
      : [];
  return [
    paint.strong(titleOfMany(ledgers)),
    '',
    await manyBathsText(ledgers, view),
    ...list('Due', dueIn(ledgers)),
    ...list('Not read', notRead(ledgers)),
    ...pagesOf(ledgers).map((page) => `\n${paint.faint('-'.repeat(width))}\n\n${page}`),
    '',
  ].join('\n');
}

export function manyReportMarkdown(ledgers: Ledgers): string {
  const { head, rows } = manyBathsTable(ledgers);
  const labels = labelsOf(ledgers, ({ status }) => status.shop.name);
  const advice = ledgers.flatMap(({ found }, place) =>
    found ? [`${labels[place]}, ${found.when}: ${found.advice}.`] : [],
  );
  const list = (items: readonly string[]) => items.map((text) => `- ${escaped(text)}`).join('\n');
  const [due, unread] = [dueIn(ledgers), notRead(ledgers)];
  const parts = [
    `# ${titleOfMany(ledgers)}`,
    tableMarkdown(head, rows),
    ...(advice.length > 0 ? [list(advice)] : []),
    ...(due.length > 0 ? [`## Due\n\n${list(due)}`] : []),
    ...(unread.length > 0 ? [`## Not read\n\n${list(unread)}`] : []),
    ...pagesOf(ledgers),
  ];
  return `${parts.join('\n\n')}\n`;
}

/** The data of `bathbook/report/1` for several ledgers. */
export function manyReportDocument(ledgers: Ledgers<unknown>): Record<string, unknown> {
  return manyBathsDocument(ledgers);
}

export function titleOfMany(ledgers: Ledgers<unknown>): string {
  return `Reports of ${count(ledgers.length, 'ledger')}`;
}

function pagesOf(ledgers: Ledgers): string[] {
  return ledgers.flatMap(({ found }) => (found ? [found.page.trimEnd()] : []));
}

/** Each line begins with the shop. */
function dueIn(ledgers: Ledgers): string[] {
  const labels = labelsOf(ledgers, ({ status }) => status.shop.name);
  return ledgers.flatMap(({ found }, place) => (found?.due ?? []).map((text) => `${labels[place]}: ${text}`));
}

function notRead(ledgers: Ledgers): string[] {
  return ledgers.filter(({ found }) => !found).map(notReadText);
}

/** The file and the first of what is wrong with it, where people read who do not see the other stream. */
export function notReadText({ typed, problems: [first] }: OneLedger<unknown>): string {
  const where = first?.line === undefined ? typed : `${typed}, line ${first.line}`;
  return `${where}: ${first?.message ?? 'the program met a fault of its own'}`;
}
