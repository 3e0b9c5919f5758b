/** A file of a part, piece by piece. */
import { closeSync, openSync, readSync } from 'node:fs';

const PIECE_BYTES = 1024 * 1024;

/** The same bytes are filled again and again; a reader that keeps some copies them. */
export function* piecesOf(path: string): Generator<Uint8Array> {
  const file = openSync(path, 'r');
  try {
    const piece = new Uint8Array(PIECE_BYTES);
    for (let read = readSync(file, piece); read > 0; read = readSync(file, piece))
      yield piece.subarray(0, read);
  } finally {
    closeSync(file);
  }
}
