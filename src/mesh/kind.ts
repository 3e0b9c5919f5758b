/** Tells files of triangles apart by what is in them, whatever they are called. */
import { EXPORT_AGAIN, Unreadable } from './fault.ts';

export type Kind = 'binary' | 'text' | 'zip';

const HEAD_BYTES = 80;
export const BINARY_START = HEAD_BYTES + 4;
export const TRIANGLE_BYTES = 50;
/** Enough to see a few lines of a file of text. */
export const KIND_BYTES = 4096;

/**
 * A binary STL file is as long as its count of triangles says, 84 + 50 n bytes, and its head may begin with "solid" all the same;
 * so the length is looked at first.
 *
 * @param start - the first {@link KIND_BYTES} of the file, or all there are
 * @throws Unreadable for what is neither STL nor 3MF, or damaged beyond reading
 */
export function kindOf(start: Uint8Array, sizeBytes: number): Kind {
  if (sizeBytes === 0) throw new Unreadable('it is empty', EXPORT_AGAIN);
  const count = start.length >= BINARY_START ? countIn(start) : undefined;
  if (count !== undefined && BINARY_START + TRIANGLE_BYTES * count === sizeBytes) return 'binary';
  if (start[0] === 0x50 && start[1] === 0x4b && start[2] === 3 && start[3] === 4) return 'zip';
  const text = new TextDecoder('latin1').decode(start);
  if (looksLikeText(text)) return 'text';
  if (count !== undefined && holdsTriangle(start)) throw wrongLength(count, sizeBytes);
  throw new Unreadable('it is neither STL nor 3MF', otherKind(text));
}

export function countIn(start: Uint8Array): number {
  return new DataView(start.buffer, start.byteOffset).getUint32(HEAD_BYTES, true);
}

function looksLikeText(text: string): boolean {
  return !text.includes('\0') && /^(?:\xef\xbb\xbf)?\s*solid(?:\s|$)/i.test(text);
}

/** Whether the first triangle could be one, of a head that says there is at least one. */
function holdsTriangle(start: Uint8Array): boolean {
  if (countIn(start) === 0 || start.length < BINARY_START + 48) return false;
  const view = new DataView(start.buffer, start.byteOffset);
  const numbers = Array.from({ length: 12 }, (_, nth) => view.getFloat32(BINARY_START + 4 * nth, true));
  // Text and packed data read as numbers of all magnitudes.
  return numbers.every((number) => number === 0 || (Math.abs(number) > 1e-12 && Math.abs(number) < 1e8));
}

function wrongLength(count: number, sizeBytes: number): Unreadable {
  const holds = Math.floor((sizeBytes - BINARY_START) / TRIANGLE_BYTES);
  const said = `it says that it holds ${count} triangles, and is ${sizeBytes} bytes long, which is room for ${holds}`;
  return holds < count
    ? new Unreadable(`it is cut off: ${said}`, `copy it again, or ${EXPORT_AGAIN}`)
    : new Unreadable(said, EXPORT_AGAIN);
}

function otherKind(text: string): string {
  if (/^ply\s/.test(text)) return 'it is a PLY file; export the part as STL or 3MF';
  if (/^ISO-10303-21;/.test(text)) return 'it is a STEP file; export the part as STL or 3MF';
  if (/^(?:#.*\s+|mtllib.*\s+|[og] .*\s+)*v\s+-?[\d.]/.test(text))
    return 'it is an OBJ file; export the part as STL or 3MF';
  return 'name the file of the part as it was before slicing, STL or 3MF';
}
