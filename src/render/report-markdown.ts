/**
 * The report as Markdown with tables, as code hosts and wikis show it. Text of the ledger is escaped: a note is never markup.
 */
import type { Report } from '../records/report.ts';
import { printable } from './printable.ts';
import { periodText, sectionsOf, titleOf } from './report-sections.ts';
import type { Block, ReportFormat, ReportView } from './report-view.ts';

export const reportMarkdown: ReportFormat = (report, view) => `${pageMarkdown(report, view, 1)}\n`;

/** @param level - of its title; its sections are one below */
export function pageMarkdown(report: Report, view: ReportView, level: number): string {
  const marks = '#'.repeat(level);
  const sections = sectionsOf(report, view).map(
    ({ title, blocks }) => `#${marks} ${escaped(title)}\n\n${blocks.map(blockMarkdown).join('\n\n')}`,
  );
  const parts = [
    `${marks} ${escaped(titleOf(report, view))}`,
    escaped(periodText(report, view)),
    ...sections,
    `Ledger: ${escaped(view.ledger)}`,
  ];
  return parts.join('\n\n');
}

function blockMarkdown(block: Block): string {
  switch (block.kind) {
    case 'table':
      return tableMarkdown(block.table.head, block.table.rows);
    case 'facts':
      return tableMarkdown(['', ''], block.facts);
    case 'list':
      return block.items.map((item) => `- ${escaped(item)}`).join('\n');
    default:
      return block satisfies never;
  }
}

export function tableMarkdown(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(escaped).join(' | ')} |`;
  return [line(head), `|${head.map(() => '---').join('|')}|`, ...rows.map(line)].join('\n');
}

/**
 * Text that stays as it is typed, on one line: signs of Markdown and HTML, addresses that would become links, and signs that
 * begin a list or a heading.
 */
export function escaped(text: string): string {
  return printable(text)
    .replaceAll(/[\\`*_[\]<>|~&#!$@{}]/g, '\\$&')
    .replaceAll(/:(?=\/\/)/g, '\\:')
    .replaceAll(/\b(www)\./gi, '$1\\.')
    .replace(/^(\s*)([-+=])/, '$1\\$2')
    .replace(/^(\s*\d+)([.)])/, '$1\\$2');
}
