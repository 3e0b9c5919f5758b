import type { Problem } from './problem.ts';

/** A piece of the ledger's text with the number of its first line. */
export interface Snippet {
  text: string;
  firstLine: number;
}

/** A finding with the characters of a snippet it is about. */
export interface Told {
  code: string;
  message: string;
  help?: string | undefined;
  severity?: Problem['severity'];
  start: number;
  end: number;
}

/** The problem with line, column, length and the line it stands on. */
export function placed({ text, firstLine }: Snippet, told: Told): Problem {
  const start = Math.min(told.start, text.length);
  const lineStart = text.lastIndexOf('\n', start - 1) + 1;
  const nextBreak = text.indexOf('\n', lineStart);
  const excerpt = text.slice(lineStart, nextBreak < 0 ? text.length : nextBreak).replace(/\r$/, '');
  const length = Math.max(1, Math.min(told.end, lineStart + excerpt.length) - start);
  return {
    code: told.code,
    message: told.message,
    ...(told.help === undefined ? {} : { help: told.help }),
    line: firstLine + countBreaks(text, lineStart),
    column: Math.min(start - lineStart, excerpt.length) + 1,
    length,
    ...(excerpt === '' ? {} : { excerpt }),
    severity: told.severity ?? 'error',
  };
}

function countBreaks(text: string, before: number): number {
  let count = 0;
  for (let at = text.indexOf('\n'); at >= 0 && at < before; at = text.indexOf('\n', at + 1)) {
    count++;
  }
  return count;
}
