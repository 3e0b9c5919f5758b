/**
 * The report as Markdown with tables, as code hosts and wikis show it. Text of the ledger is escaped: a note is never markup.
 */
import { printable } from './printable.ts';
import { periodText, sectionsOf, titleOf } from './report-sections.ts';
import type { Block, ReportFormat } from './report-view.ts';

export const reportMarkdown: ReportFormat = (report, view) => {
  const sections = sectionsOf(report, view).map(
    ({ title, blocks }) => `## ${escaped(title)}\n\n${blocks.map(blockMarkdown).join('\n\n')}`,
  );
  const parts = [
    `# ${escaped(titleOf(report, view))}`,
    escaped(periodText(report, view)),
    ...sections,
    `Ledger: ${escaped(view.ledger)}`,
  ];
  return `${parts.join('\n\n')}\n`;
};

function blockMarkdown(block: Block): string {
  switch (block.kind) {
    case 'table':
      return table(block.table.head, block.table.rows);
    case 'facts':
      return table(['', ''], block.facts);
    case 'list':
      return block.items.map((item) => `- ${escaped(item)}`).join('\n');
    default:
      return block satisfies never;
  }
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(escaped).join(' | ')} |`;
  return [line(head), `|${head.map(() => '---').join('|')}|`, ...rows.map(line)].join('\n');
}

/**
 * Text that stays as it is typed, on one line: signs of Markdown and HTML, addresses that would become links, and signs that
 * begin a list or a heading.
 */
function escaped(text: string): string {
  return printable(text)
    .replaceAll(/[\\`*_[\]<>|~&#!$@{}]/g, '\\$&')
    .replaceAll(/:(?=\/\/)/g, '\\:')
    .replaceAll(/\b(www)\./gi, '$1\\.')
    .replace(/^(\s*)([-+=])/, '$1\\$2')
    .replace(/^(\s*\d+)([.)])/, '$1\\$2');
}
