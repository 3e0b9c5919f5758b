import type { Problem } from '../ledger/problem.ts';
import { printable } from './printable.ts';

/** Longer lines are cut around the culprit. */
const WIDEST = 100;

/**
 * A problem as plain text: place and sentence, the line of the file with marks under the culprit, what to do.
 * Text from the file is shown with control characters replaced, so that a ledger cannot steer a terminal.
 */
export function renderProblem(problem: Problem, fileName: string): string {
  const { line, column, message, help, severity } = problem;
  const isNamed = line === undefined && message.includes(`"${fileName}"`);
  const place = [isNamed ? undefined : fileName, line, line === undefined ? undefined : column].filter(
    (part) => part !== undefined && part !== '',
  );
  const where = place.length === 0 ? '' : `${place.join(':')}: `;
  const sentence = `${where}${severity === 'warning' ? 'note: ' : ''}${message}`;
  const lines = [
    sentence,
    ...excerptLines(problem),
    ...(help === undefined ? [] : [`  help: ${capital(help)}`]),
  ];
  return lines.map((line) => printable(line.replaceAll('\t', ' '))).join('\n');
}

/** Advice begins like a sentence, but what is to be typed stays as it is typed. */
function capital(help: string): string {
  return help.startsWith('bathbook') ? help : help.charAt(0).toUpperCase() + help.slice(1);
}

function excerptLines({ excerpt, column = 1, length = 1 }: Problem): string[] {
  if (excerpt === undefined || excerpt.trim() === '') {
    return [];
  }
  const mark = column - 1;
  const from = excerpt.length <= WIDEST || mark + length < WIDEST - 10 ? 0 : Math.max(0, mark - 40);
  const shown = excerpt.slice(from, from + WIDEST);
  const before = from > 0 ? '…' : '';
  const after = from + WIDEST < excerpt.length ? '…' : '';
  const marks = Math.max(1, Math.min(length, shown.length - (mark - from)));
  return [
    `    ${before}${shown}${after}`,
    `    ${' '.repeat(before.length + mark - from)}${'^'.repeat(marks)}`,
  ];
}
