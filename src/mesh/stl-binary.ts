/** Triangles of a binary STL file: 80 bytes of anything, their count, 50 bytes each. Little-endian. */
import { EXPORT_AGAIN, Unreadable } from './fault.ts';
import { BINARY_START, TRIANGLE_BYTES } from './kind.ts';
import type { Surface } from './surface.ts';

/** No printer reaches so far, in any unit; and sums beyond would say nothing. */
export const FARTHEST = 1e8;

/** @throws Unreadable */
export function readBinary(chunks: Iterable<Uint8Array>, surface: Surface): void {
  const parted = new Uint8Array(TRIANGLE_BYTES);
  let held = 0;
  let skip = BINARY_START;
  for (const chunk of chunks) {
    let at = Math.min(skip, chunk.length);
    skip -= at;
    if (held > 0 && at < chunk.length) {
      const taken = chunk.subarray(at, at + TRIANGLE_BYTES - held);
      parted.set(taken, held);
      held += taken.length;
      at += taken.length;
      if (held === TRIANGLE_BYTES) {
        addAll(parted, 0, surface);
        held = 0;
      }
    }
    const end = addAll(chunk, at, surface);
    if (held === 0 && end < chunk.length) {
      parted.set(chunk.subarray(end));
      held = chunk.length - end;
    }
  }
  if (held > 0) throw new Unreadable('it was cut off while it was read', 'try again once the export is done');
}

/** Adds all whole triangles from a place on; gives the place after them. */
function addAll(bytes: Uint8Array, from: number, surface: Surface): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  let at = from;
  for (; at + TRIANGLE_BYTES <= bytes.length; at += TRIANGLE_BYTES) {
    const ax = view.getFloat32(at + 12, true);
    const ay = view.getFloat32(at + 16, true);
    const az = view.getFloat32(at + 20, true);
    const bx = view.getFloat32(at + 24, true);
    const by = view.getFloat32(at + 28, true);
    const bz = view.getFloat32(at + 32, true);
    const cx = view.getFloat32(at + 36, true);
    const cy = view.getFloat32(at + 40, true);
    const cz = view.getFloat32(at + 44, true);
    const far =
      Math.abs(ax) +
      Math.abs(ay) +
      Math.abs(az) +
      Math.abs(bx) +
      Math.abs(by) +
      Math.abs(bz) +
      Math.abs(cx) +
      Math.abs(cy) +
      Math.abs(cz);
    if (!(far < FARTHEST)) throw outOfReach(surface.triangles + 1);
    surface.add(ax, ay, az, bx, by, bz, cx, cy, cz);
  }
  return at;
}

function outOfReach(nth: number): Unreadable {
  return new Unreadable(
    `triangle ${nth} has a corner that is no place: a coordinate is not a number, or beyond ${FARTHEST}`,
    EXPORT_AGAIN,
  );
}
