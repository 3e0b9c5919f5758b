/** Measures a file of a part on disk, piece by piece. */
import { statSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import type { Problem } from '../ledger/problem.ts';
import { measureMesh } from '../mesh/measure.ts';
import type { MeshMeasure } from '../mesh/sum-up.ts';
import type { Triangles } from '../mesh/triangles.ts';
import type { MeshUnit } from '../mesh/units.ts';
import { EXIT } from './fault.ts';
import { piecesOf } from './mesh-pieces.ts';
import { UNPACKER } from './unpacker.ts';

/** Less text than this is read sooner than a thread has begun. */
const LONG_TEXT_BYTES = 16_000_000;

export type FileMeasured = { measure: MeshMeasure } | { problem: Problem; exit: number };

export async function measureFile(path: string, unit: MeshUnit): Promise<FileMeasured> {
  try {
    const stat = statSync(path);
    if (!stat.isFile())
      return wrong(path, { message: 'it is no file', help: 'name an STL or 3MF file' }, EXIT.noFile);
    const file = {
      sizeBytes: stat.size,
      chunks: () => piecesOf(path),
      unpacker: UNPACKER,
      ...(stat.size >= LONG_TEXT_BYTES && availableParallelism() > 1 ? { readText: apart(path) } : {}),
    };
    const measured = await measureMesh(file, { unit });
    return 'message' in measured ? wrong(path, measured, EXIT.data) : { measure: measured };
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined) throw error;
    if (code === 'ENOENT' || code === 'ENOTDIR')
      return wrong(path, { message: 'there is no such file', help: missingHelp(path) }, EXIT.noFile);
    return wrong(path, { message: code, help: 'check that you may read it' }, EXIT.io);
  }
}

function apart(path: string): (to: Triangles) => Promise<boolean> {
  return async (to) => (await import('./mesh-text.ts')).readTextApart(path, to);
}

function missingHelp(path: string): string {
  const [, count, rest] = /^(\d+)[x×]?([^\d].*)$/i.exec(path) ?? [];
  if (rest) return `a count is a word of its own: --mesh ${count} ${rest}`;
  return 'check the path; all words after --mesh are files and their counts, and a name with blanks goes in quotes';
}

function wrong(
  path: string,
  { message, help, line }: { message: string; help: string | undefined; line?: number | undefined },
  exit: number,
): FileMeasured {
  const problem: Problem = {
    code: 'cannot-measure',
    message: `Cannot measure "${path}": ${line === undefined ? '' : `in line ${line}, `}${message}`,
    ...(help === undefined ? {} : { help }),
    severity: 'error',
  };
  return { problem, exit };
}
