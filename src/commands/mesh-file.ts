/** Measures a file of a part on disk, piece by piece. */
import { closeSync, openSync, readSync, statSync } from 'node:fs';
import type { Problem } from '../ledger/problem.ts';
import { measureMesh } from '../mesh/measure.ts';
import type { MeshMeasure } from '../mesh/sum-up.ts';
import type { MeshUnit } from '../mesh/units.ts';
import { EXIT } from './fault.ts';
import { UNPACKER } from './unpacker.ts';

const PIECE_BYTES = 1024 * 1024;

export type FileMeasured = { measure: MeshMeasure } | { problem: Problem; exit: number };

export async function measureFile(path: string, unit: MeshUnit): Promise<FileMeasured> {
  try {
    const stat = statSync(path);
    if (!stat.isFile())
      return wrong(path, { message: 'it is no file', help: 'name an STL or 3MF file' }, EXIT.noFile);
    const file = { sizeBytes: stat.size, chunks: () => piecesOf(path), unpacker: UNPACKER };
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

/** The same bytes are filled again and again; a reader that keeps some copies them. */
function* piecesOf(path: string): Generator<Uint8Array> {
  const file = openSync(path, 'r');
  try {
    const piece = new Uint8Array(PIECE_BYTES);
    for (let read = readSync(file, piece); read > 0; read = readSync(file, piece))
      yield piece.subarray(0, read);
  } finally {
    closeSync(file);
  }
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
