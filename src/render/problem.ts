import type { Problem } from '../ledger/problem.ts';
import { printable } from './printable.ts';
import { wrap } from './wrap.ts';

/** Longer lines are cut around the culprit. */
const WIDEST = 100;
/** On a terminal too, a culprit needs something around it. */
const NARROWEST = 40;
/** Beside an excerpt: its indent, and marks where it is cut. */
const BESIDE = 6;
const HELP = '  help: ';

/**
 * A problem as plain text: place and sentence, the line of the file with marks under the culprit, what to do.
 * Text from the file is shown with control characters replaced, so that a ledger cannot steer a terminal.
 *
 * @param width - of a terminal, whose lines are broken between words; absent where lines stay whole
 */
export function renderProblem(problem: Problem, fileName: string, width?: number): string {
  const { line, column, message, help, severity } = problem;
  const isNamed = line === undefined && message.includes(`"${fileName}"`);
  const place = [isNamed ? undefined : fileName, line, line === undefined ? undefined : column].filter(
    (part) => part !== undefined && part !== '',
  );
  const where = place.length === 0 ? '' : `${place.join(':')}: `;
  const sentence = `${where}${severity === 'warning' ? 'note: ' : ''}${message}`;
  const plain = (text: string) => printable(text.replaceAll('\t', ' '));
  const broken = (text: string, indent: string) =>
    width === undefined ? plain(text) : wrap(plain(text), width - indent.length, indent);
  return [
    broken(sentence, ''),
    ...excerptLines(problem, widestOf(width)).map(plain),
    ...(help === undefined ? [] : [broken(`${HELP}${capital(help)}`, ' '.repeat(HELP.length - 2))]),
  ].join('\n');
}

function widestOf(width: number | undefined): number {
  return width === undefined ? WIDEST : Math.min(WIDEST, Math.max(NARROWEST, width - BESIDE));
}

/** Advice begins like a sentence, but what is to be typed stays as it is typed. */
function capital(help: string): string {
  return help.startsWith('bathbook') ? help : help.charAt(0).toUpperCase() + help.slice(1);
}

function excerptLines({ excerpt, column = 1, length = 1 }: Problem, widest: number): string[] {
  if (excerpt === undefined || excerpt.trim() === '') {
    return [];
  }
  const mark = column - 1;
  const from =
    excerpt.length <= widest || mark + length < widest - 10
      ? 0
      : Math.max(0, mark - Math.floor(0.4 * widest));
  const shown = excerpt.slice(from, from + widest);
  const before = from > 0 ? '…' : '';
  const after = from + widest < excerpt.length ? '…' : '';
  const marks = Math.max(1, Math.min(length, shown.length - (mark - from)));
  return [
    `    ${before}${shown}${after}`,
    `    ${' '.repeat(before.length + mark - from)}${'^'.repeat(marks)}`,
  ];
}
