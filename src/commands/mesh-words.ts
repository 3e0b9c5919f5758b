/** What was typed after `--mesh`: files, each with a count before it if there are several of the part. */

export interface CountedFile {
  path: string;
  count: number;
}

/** @returns the files in order; or what is wrong, and what to type */
export function readMeshWords(words: readonly string[]): CountedFile[] | { message: string; help: string } {
  const files: CountedFile[] = [];
  let pending: string | undefined;
  for (const word of words) {
    const digits = /^(?:(\d+)[x×]?|[x×](\d+))$/i.exec(word);
    if (digits && pending === undefined) {
      pending = word;
      const count = Number(digits[1] ?? digits[2]);
      if (count < 1 || count > 1000) return { message: `"${word}" is no count of parts`, help: COUNTS };
    } else {
      files.push({
        path: word,
        count: pending === undefined ? 1 : Number.parseInt(pending.replace(/^[x×]/i, ''), 10),
      });
      pending = undefined;
    }
  }
  if (pending !== undefined) return { message: `no file comes with "${pending}"`, help: COUNTS };
  return files;
}

const COUNTS =
  'write whole numbers from 1 to 1000, each before its file: --mesh 6 arch.stl 2 die.3mf; a file whose name is a number goes with ./ before it';
