/**
 * A problem is plain data: a code from the closed catalogue (`problems.ts`), what is wrong in one sentence, what to do,
 * and the place. Offsets are UTF-16 positions in the text that was read; line and column are worked out when printed.
 */
export interface Problem {
  code: string;
  /** One sentence: capital first, no full stop, text from the file in double quotes. */
  message: string;
  /** What to type or change next. */
  help?: string;
  /** Line in the file, from 1. */
  line?: number;
  /** Column of the culprit, from 1. */
  column?: number;
  /** How many characters the culprit spans, at least 1. */
  length?: number;
  /** The line of the file that holds the culprit, as it stands there. */
  excerpt?: string;
  /** Warnings are told and change nothing; errors stop the command. */
  severity: 'error' | 'warning';
}
