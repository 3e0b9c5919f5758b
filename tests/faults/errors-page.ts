import { PROBLEMS, type ProblemKind } from '../../src/ledger/problems.ts';
import { codeOf, faultNames, readFault } from './fault.ts';

const CHAPTERS: Record<ProblemKind['found'], string> = {
  file: 'In the file',
  corrections: 'In corrections and references',
  bench: 'At the bench',
  strict: 'With `check --strict`',
  disk: 'On the disk',
};

/** The page of errors, made from the catalogue and the fixtures. */
export async function errorsPage(): Promise<string> {
  const chapters = (Object.keys(CHAPTERS) as ProblemKind['found'][]).map(chapter);
  const intro =
    '# Errors\n\nEvery problem the program can have with a ledger, with the exit code of a command that meets it. ' +
    'Made by `npm run faults` from `problems.ts` and `tests/faults/`; edit those, not this page.\n';
  return [intro, ...(await Promise.all(chapters))].join('\n');
}

async function chapter(found: ProblemKind['found']): Promise<string> {
  const codes = Object.keys(PROBLEMS).filter((code) => PROBLEMS[code]!.found === found);
  return [`## ${CHAPTERS[found]}\n`, ...(await Promise.all(codes.map(entry)))].join('\n');
}

async function entry(code: string): Promise<string> {
  const { title, meaning, remedy, exit } = PROBLEMS[code]!;
  const example = faultNames.find((name) => codeOf(name) === code);
  const shown = example === undefined ? '' : `\n\`\`\`text\n${(await readFault(example)).printed}\`\`\`\n`;
  return `### ${title}\n\n\`${code}\`, exit ${exit}. ${meaning} ${remedy}\n${shown}`;
}
