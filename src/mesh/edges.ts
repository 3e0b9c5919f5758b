/** Which edges of a surface do not have as many triangles on one side as on the other. */
import type { Surface } from './surface.ts';

export interface Edges {
  /** Edges at which a triangle is missing. */
  open: number;
  /** Edges whose triangles do not face the same way. */
  turned: number;
  /** Edges of more than two triangles. */
  crowded: number;
  all: number;
  /** Of each open or turned edge: its lower and its higher corner, and how many more triangles run from the lower to the higher. */
  uneven: number[];
}

/** Beyond so many a surface is no longer the skin of a solid, and they are only counted. */
export const MOST_UNEVEN = 200_000;

/** Sorts the sides of all triangles by their lower corner, and looks at those of each corner. */
export function findEdges(surface: Surface): Edges {
  const { starts, sides } = sidesByCorner(surface);
  const edges: Edges = { open: 0, turned: 0, crowded: 0, all: 0, uneven: [] };
  for (let corner = 0; corner < surface.cornerCount; corner += 1) {
    const [from, to] = [starts[corner]!, starts[corner + 1]!];
    sort(sides, from, to);
    for (let at = from; at < to; ) at = judge(edges, corner, { sides, at, to });
  }
  return edges;
}

/** A side is the number of its higher corner, doubled, and one more if it runs down to the lower. */
function sidesByCorner({ faces, faceCount, cornerCount }: Surface): {
  starts: Uint32Array;
  sides: Uint32Array;
} {
  const starts = new Uint32Array(cornerCount + 2);
  eachSide(faces, faceCount, (a, b) => {
    const lower = Math.min(a, b);
    starts[lower + 2] = starts[lower + 2]! + 1;
  });
  for (let corner = 2; corner < starts.length; corner += 1)
    starts[corner] = starts[corner]! + starts[corner - 1]!;
  const sides = new Uint32Array(3 * faceCount);
  eachSide(faces, faceCount, (a, b) => {
    const lower = Math.min(a, b);
    const place = starts[lower + 1]!;
    sides[place] = a < b ? 2 * b : 2 * a + 1;
    starts[lower + 1] = place + 1;
  });
  return { starts, sides };
}

function eachSide(faces: Uint32Array, count: number, see: (from: number, to: number) => void): void {
  for (let at = 0; at < 3 * count; at += 3) {
    const [a, b, c] = [faces[at]!, faces[at + 1]!, faces[at + 2]!];
    see(a, b);
    see(b, c);
    see(c, a);
  }
}

/** Few at nearly every corner; where many meet, the engine's own sorting does not take the square of them. */
function sort(sides: Uint32Array, from: number, to: number): void {
  if (to - from > 24) {
    sides.subarray(from, to).sort();
    return;
  }
  for (let next = from + 1; next < to; next += 1) {
    const side = sides[next]!;
    let place = next;
    for (; place > from && sides[place - 1]! > side; place -= 1) sides[place] = sides[place - 1]!;
    sides[place] = side;
  }
}

/** Counts the edge that begins at a place of the sorted sides; gives the place after it. */
function judge(
  edges: Edges,
  lower: number,
  { sides, at, to }: { sides: Uint32Array; at: number; to: number },
): number {
  const higher = sides[at]! >>> 1;
  let next = at;
  let more = 0;
  for (; next < to && sides[next]! >>> 1 === higher; next += 1) more += (sides[next]! & 1) === 0 ? 1 : -1;
  const triangles = next - at;
  edges.all += 1;
  if (triangles > 2) edges.crowded += 1;
  if (more === 0) return next;
  if (triangles % 2 === 1) edges.open += 1;
  else edges.turned += 1;
  if (edges.uneven.length < 3 * MOST_UNEVEN) edges.uneven.push(lower, higher, more);
  return next;
}
