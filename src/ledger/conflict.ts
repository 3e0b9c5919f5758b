import { placed } from './place.ts';
import type { Problem } from './problem.ts';

const MARKER = /^(?:<{7}|={7}|>{7}|\|{7})(?: |\r?$)/m;

/** The first trace of a merge that was not finished, or undefined. */
export function findConflict(text: string, firstLine = 1): Problem | undefined {
  const m = MARKER.exec(text);
  if (m === null) {
    return undefined;
  }
  const told = {
    code: 'conflict-marker',
    message: 'Cannot read on, a merge of two versions was not finished here',
    help: 'Keep the lines of both sides that are right, then delete the lines with "<<<<<<<", "|||||||", "=======" and ">>>>>>>"',
    start: m.index,
    end: m.index + 7,
  };
  return placed({ text, firstLine }, told);
}
