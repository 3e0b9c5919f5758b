/**
 * Holes of a surface closed as flat as they go: each with a fan of triangles about the middle of its rim. A triangle
 * that faces the wrong way is a hole that is closed twice, once too often the wrong way, and comes right by the same rule.
 */
import { type Edges, MOST_UNEVEN } from './edges.ts';
import type { Shells } from './shells.ts';
import { type Surface, tetrahedron, triangleArea } from './surface.ts';

/**
 * Adds to each shell the volume that its caps close off.
 *
 * @returns the surface of all caps, square units; Infinity where there are too many holes to close
 */
export function capHoles(surface: Surface, { uneven }: Edges, shells: Shells): number {
  if (uneven.length >= 3 * MOST_UNEVEN) return Infinity;
  const middles = middlesOfRims(surface, uneven);
  const [ox, oy, oz] = surface.origin ?? [0, 0, 0];
  let area = 0;
  for (let at = 0; at < uneven.length; at += 3) {
    const [lower, higher, more] = [uneven[at]!, uneven[at + 1]!, uneven[at + 2]!];
    const [ax, ay, az] = place(surface, higher);
    const [bx, by, bz] = place(surface, lower);
    const [cx, cy, cz] = middles(lower);
    area += Math.abs(more) * triangleArea(ax, ay, az, bx, by, bz, cx, cy, cz);
    shells.list[shells.of[lower]!]!.volume +=
      more * tetrahedron(ax - ox, ay - oy, az - oz, bx - ox, by - oy, bz - oz, cx - ox, cy - oy, cz - oz);
  }
  return area;
}

type Place = readonly [number, number, number];

function place({ corners }: Surface, corner: number): Place {
  return [corners[3 * corner]!, corners[3 * corner + 1]!, corners[3 * corner + 2]!];
}

/** Rims are edges that hang together; a middle is the mean of the ends of its edges. */
function middlesOfRims(surface: Surface, uneven: readonly number[]): (corner: number) => Place {
  const parents = new Map<number, number>();
  const top = (corner: number): number => {
    let here = corner;
    for (let above = parents.get(here) ?? here; above !== here; above = parents.get(here) ?? here) {
      parents.set(here, parents.get(above) ?? above);
      here = above;
    }
    return here;
  };
  for (let at = 0; at < uneven.length; at += 3) parents.set(top(uneven[at]!), top(uneven[at + 1]!));
  const sums = new Map<number, [x: number, y: number, z: number, ends: number]>();
  for (let at = 0; at < uneven.length; at += 1) {
    if (at % 3 === 2) continue;
    const [x, y, z] = place(surface, uneven[at]!);
    const sum = sums.get(top(uneven[at]!)) ?? [0, 0, 0, 0];
    sums.set(top(uneven[at]!), [sum[0] + x, sum[1] + y, sum[2] + z, sum[3] + 1]);
  }
  return (corner) => {
    const [x, y, z, ends] = sums.get(top(corner))!;
    return [x / ends, y / ends, z / ends];
  };
}
