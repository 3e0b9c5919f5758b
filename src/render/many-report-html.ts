/**
 * The reports of several shops as one page of HTML: a table of all of them, then the report of each, on paper on sheets of its own.
 */
import { sectionOf } from './html/blocks.ts';
import { element, type Markup } from './html/markup.ts';
import { pageOf } from './html/page.ts';
import { ALONE } from './html/part.ts';
import { type ShopRows, shopsTable } from './html/shops.ts';
import { labelsOf, type OneLedger } from './many.ts';
import { type LedgerReport, notReadText, titleOfMany } from './many-report.ts';

type Ledger = OneLedger<LedgerReport<Markup>>;

export function manyReportHtml(ledgers: readonly Ledger[], version: string): string {
  const labels = labelsOf(ledgers, ({ status }) => status.shop.name);
  const rows = ledgers.map((ledger, place) => rowsOf(ledger, place, labels[place]!));
  return pageOf({
    title: titleOfMany(ledgers),
    generator: `bathbook ${version}`,
    header: [
      element('h1', {}, titleOfMany(ledgers)),
      element('p', {}, 'All of them first, then each by itself; times are those of each shop'),
    ],
    main: [
      sectionOf('All shops', ALONE, shopsTable(rows)),
      ledgers.map(({ found }, place) => (found ? article(found, place, labels[place]!) : null)),
    ],
    footer: null,
  });
}

/** What the ids of one report begin with. */
export function shopId(place: number): string {
  return `shop-${place + 1}`;
}

function rowsOf(ledger: Ledger, place: number, name: string): ShopRows {
  const { found } = ledger;
  if (!found) return { name, when: '', estimates: [], told: notReadText(ledger), due: [] };
  const { when, status, advice, due } = found;
  return { name, id: shopId(place), when, estimates: status.estimates, told: `${advice}.`, due };
}

function article({ when, page }: LedgerReport<Markup>, place: number, name: string): Markup {
  const [id, title] = [shopId(place), `${shopId(place)}-name`];
  const head = element('h2', { id: title }, name, ' ', element('span', {}, `report of ${when}`));
  return element('article', { id, 'aria-labelledby': title }, head, page);
}
