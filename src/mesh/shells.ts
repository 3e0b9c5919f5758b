/** The shells of a surface: triangles that hang together by their corners. */
import { type Surface, tetrahedron, triangleArea } from './surface.ts';

export interface Shell {
  /** Cubic units; negative when it faces inwards. */
  volume: number;
  area: number;
  triangles: number;
  low: [number, number, number];
  high: [number, number, number];
  /** The corners that lie farthest to the left, right, front, back, bottom and top. */
  extremes: [number, number, number, number, number, number];
}

export interface Shells {
  list: Shell[];
  /** The place in the list of the shell of each corner. */
  of: Int32Array;
}

/** Beyond so many pieces the file is no part, or is broken; they are taken as one. */
const MOST_SHELLS = 20_000;

/** @returns undefined where there are more than {@link MOST_SHELLS} */
export function findShells(surface: Surface): Shells | undefined {
  const parents = joined(surface);
  const count = name(parents, surface);
  if (count > MOST_SHELLS) return undefined;
  return { list: sums(surface, parents, count), of: parents };
}

/** For each corner one that it hangs together with, nearer to the one that stands for all; union-find, paths halved. */
function joined({ faces, faceCount, cornerCount }: Surface): Int32Array {
  const parents = new Int32Array(cornerCount);
  for (let corner = 0; corner < cornerCount; corner += 1) parents[corner] = corner;
  for (let at = 0; at < 3 * faceCount; at += 3) {
    const first = root(parents, faces[at]!);
    const joinedTo = join(parents, first, root(parents, faces[at + 1]!));
    join(parents, joinedTo, root(parents, faces[at + 2]!));
  }
  return parents;
}

function root(parents: Int32Array, corner: number): number {
  let here = corner;
  for (let above = parents[here]!; above !== here; above = parents[here]!) {
    const top = parents[above]!;
    parents[here] = top;
    here = top;
  }
  return here;
}

/** The lower stands for both. */
function join(parents: Int32Array, a: number, b: number): number {
  if (a < b) parents[b] = a;
  else parents[a] = b;
  return Math.min(a, b);
}

/** Turns the corners that stand for a shell into its number; a corner of no triangle is of none, -1. */
function name(parents: Int32Array, { faces, faceCount }: Surface): number {
  for (let corner = 0; corner < parents.length; corner += 1) parents[corner] = root(parents, corner);
  const numbers = new Int32Array(parents.length).fill(-1);
  let count = 0;
  for (let at = 0; at < 3 * faceCount; at += 3) {
    const top = parents[faces[at]!]!;
    if (numbers[top] === -1) numbers[top] = count++;
  }
  for (let corner = 0; corner < parents.length; corner += 1) parents[corner] = numbers[parents[corner]!]!;
  return count;
}

function sums({ faces, faceCount, corners, origin }: Surface, of: Int32Array, count: number): Shell[] {
  const list = Array.from({ length: count }, newShell);
  const [ox, oy, oz] = origin ?? [0, 0, 0];
  for (let at = 0; at < 3 * faceCount; at += 3) {
    const [a, b, c] = [3 * faces[at]!, 3 * faces[at + 1]!, 3 * faces[at + 2]!];
    const [ax, ay, az] = [corners[a]! - ox, corners[a + 1]! - oy, corners[a + 2]! - oz];
    const [bx, by, bz] = [corners[b]! - ox, corners[b + 1]! - oy, corners[b + 2]! - oz];
    const [cx, cy, cz] = [corners[c]! - ox, corners[c + 1]! - oy, corners[c + 2]! - oz];
    const shell = list[of[faces[at]!]!]!;
    shell.triangles += 1;
    shell.volume += tetrahedron(ax, ay, az, bx, by, bz, cx, cy, cz);
    shell.area += triangleArea(ax, ay, az, bx, by, bz, cx, cy, cz);
  }
  for (let corner = 0; corner < of.length; corner += 1) {
    if (of[corner] !== -1) stretch(list[of[corner]!]!, corners, corner);
  }
  return list;
}

function newShell(): Shell {
  return {
    volume: 0,
    area: 0,
    triangles: 0,
    low: [Infinity, Infinity, Infinity],
    high: [-Infinity, -Infinity, -Infinity],
    extremes: [0, 0, 0, 0, 0, 0],
  };
}

function stretch({ low, high, extremes }: Shell, corners: Float64Array, corner: number): void {
  for (let axis = 0; axis < 3; axis += 1) {
    const value = corners[3 * corner + axis]!;
    if (value < low[axis]!) {
      low[axis] = value;
      extremes[2 * axis] = corner;
    }
    if (value > high[axis]!) {
      high[axis] = value;
      extremes[2 * axis + 1] = corner;
    }
  }
}
