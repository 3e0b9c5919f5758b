import type { Problem } from './problem.ts';

/** So many problems are told in full; the rest are counted. */
export const MOST_PROBLEMS = 20;

/** Collects problems up to the most that are told, and counts the rest. */
export class Collector {
  readonly problems: Problem[] = [];
  more = 0;

  get full(): boolean {
    return this.problems.length >= MOST_PROBLEMS;
  }

  add(problem: Problem): void {
    if (this.full) {
      this.more++;
    } else {
      this.problems.push(problem);
    }
  }

  /** In the order of the file. */
  sorted(): Problem[] {
    return this.problems.sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
  }
}
