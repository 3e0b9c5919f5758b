import { readSync } from 'node:fs';
import { isFullOrEmptyPipe, waitForPipe } from './pipe.ts';

const STDIN = 0;
const PIECE_BYTES = 65_536;

/**
 * All of standard input, or a little more than `most` bytes of one that goes on: /dev/zero never ends.
 *
 * @throws Error of the system
 */
export function readStdin(most: number): Buffer {
  const pieces: Buffer[] = [];
  for (let length = 0; length <= most; length += pieces.at(-1)!.length) {
    const piece = nextPiece();
    if (piece.length === 0) break;
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}

/** Empty at the end. */
function nextPiece(): Buffer {
  const room = Buffer.allocUnsafe(PIECE_BYTES);
  for (;;) {
    try {
      return room.subarray(0, readSync(STDIN, room));
    } catch (error) {
      if (!isFullOrEmptyPipe(error)) throw error;
      waitForPipe();
    }
  }
}
