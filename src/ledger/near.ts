/** The candidate a person most likely meant by `word`, or undefined when none is close. */
export function near(word: string, candidates: Iterable<string>): string | undefined {
  const typed = plain(word);
  let best: string | undefined;
  let bestSteps = Math.max(1, Math.floor(typed.length / 3)) + 1;
  for (const candidate of candidates) {
    const steps = closeness(typed, plain(candidate));
    if (steps < bestSteps) {
      best = candidate;
      bestSteps = steps;
    }
  }
  return best;
}

/** A ready help sentence, or undefined when nothing is close. */
export function didYouMean(word: string, candidates: Iterable<string>): string | undefined {
  const found = near(word, candidates);
  return found === undefined ? undefined : `Did you mean "${found}"?`;
}

function plain(word: string): string {
  return word.toLowerCase().replaceAll(/[\s_-]+/g, '-');
}

/** A name typed short ("drained" for "drained-min") is nearer than any misspelling. */
function closeness(typed: string, candidate: string): number {
  const short = typed.length >= 3 && candidate.startsWith(typed);
  return short ? Math.min(0.5, edits(typed, candidate)) : edits(typed, candidate);
}

/** Insertions, deletions, replacements and swaps of neighbours that turn `a` into `b` (optimal string alignment). */
function edits(a: string, b: string): number {
  let older: number[] = [];
  let old = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let steps = Math.min(old[j]! + 1, row[j - 1]! + 1, old[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        steps = Math.min(steps, older[j - 2]! + 1);
      }
      row.push(steps);
    }
    older = old;
    old = row;
  }
  return old[b.length]!;
}
