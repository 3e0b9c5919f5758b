/**
 * The report as plain text: for a terminal, and for a mail from cron.
 */
import type { Paint } from './paint.ts';
import { printable } from './printable.ts';
import { periodText, sectionsOf, titleOf } from './report-sections.ts';
import type { Block, ReportFormat } from './report-view.ts';
import { aligned, isTight, withBandsBelow } from './table.ts';
import { wrap } from './wrap.ts';

/** What stands under a title is set in a little. */
const INDENT = '  ';

export const reportText: ReportFormat = async (report, view) => {
  const room = view.width - INDENT.length;
  const sections: string[] = [];
  for (const { title, blocks } of sectionsOf(report, view)) {
    const drawn: string[] = [];
    for (const block of blocks) drawn.push(await blockText(block, room, view.paint));
    const body = drawn.join('\n\n').replaceAll(/^(?=.)/gm, INDENT);
    sections.push(`${view.paint.strong(printable(title))}\n${body}`);
  }
  return [
    view.paint.strong(wrap(printable(titleOf(report, view)), view.width)),
    wrap(printable(periodText(report, view)), view.width),
    ...sections.map((section) => `\n${section}`),
    `\nledger: ${printable(view.ledger)}\n`,
  ].join('\n');
};

async function blockText(block: Block, room: number, paint: Paint): Promise<string> {
  switch (block.kind) {
    case 'table': {
      const { head, rows } = block.table;
      const table = { head: head.map(printable), rows: rows.map((row) => row.map(printable)) };
      return aligned(isTight(table, room) ? withBandsBelow(table) : table, paint, room);
    }
    case 'facts':
      return factsText(block.facts, room, paint);
    case 'list':
      return block.items.map((item) => `- ${wrap(printable(item), room - 2, INDENT)}`).join('\n');
    default:
      return block satisfies never;
  }
}

/** Labels in one column, texts wrapped beside them; a label that stays the same is said once. */
function factsText(facts: readonly (readonly [string, string])[], room: number, paint: Paint): string {
  const column = Math.max(...facts.map(([label]) => label.length)) + 2;
  return facts
    .map(([label, text], place) => {
      const said = facts[place - 1]?.[0] === label ? '' : label;
      return `${paint.faint(said.padEnd(column))}${wrap(printable(text), room - column, ' '.repeat(column))}`;
    })
    .join('\n');
}
