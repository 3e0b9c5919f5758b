import { lineAt } from './event-lines.ts';
import type { Problem } from './problem.ts';

/** The values that problems found after reading are about, as they stand in a line. */
const CULPRITS: Record<string, RegExp> = {
  'unknown-id': /\b(?:of|wash): *("[^"]*"|[^\s,}]+)/d,
  'correction-circle': /\bof: *("[^"]*"|[^\s,}]+)/d,
  'amend-breaks-event': /\bset: *(\{.*\}|[^\s,}]+)(?=, *why\b)/d,
  'long-soak': /\bminutes: *(\[[^\]]*\])/d,
  'out-of-order': /\bat: *([^\s,}]+)/d,
  'logged-in-future': /\blogged: *([^\s,}]+)/d,
};

/** Adds the line of the file, and the culprit in it, to a problem that knows only its line number. */
export function withExcerpt(text: string, problem: Problem): Problem {
  if (problem.line === undefined || problem.excerpt !== undefined) {
    return problem;
  }
  let start = 0;
  for (let number = 1; number < problem.line; number++) {
    start = text.indexOf('\n', start) + 1;
  }
  const { first, end } = lineAt(text, start, problem.line);
  const excerpt = text.slice(start, end);
  const span = CULPRITS[problem.code]?.exec(excerpt)?.indices?.[1] ?? [first - start, excerpt.length];
  return { ...problem, column: span[0] + 1, length: Math.max(1, span[1] - span[0]), excerpt };
}
