/** Solids of triangles whose volume and surface are known, and the files that hold them. Lengths in mm. */
import { UNPACKER } from '../../src/commands/unpacker.ts';
import type { MeshBytes } from '../../src/mesh/measure.ts';

export type Corner = readonly [number, number, number];
/** Counter-clockwise seen from outside. */
export type Facet = readonly [Corner, Corner, Corner];

/** An axis-parallel box, 12 triangles. */
export function box([x, y, z]: Corner, [dx, dy, dz]: Corner): Facet[] {
  const corner = (nth: number): Corner => [
    x + (nth & 1) * dx,
    y + ((nth >> 1) & 1) * dy,
    z + (nth >> 2) * dz,
  ];
  const sides = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  return sides.flatMap(([a, b, c, d]) => [
    [corner(a), corner(b), corner(c)] as const,
    [corner(a), corner(c), corner(d)] as const,
  ]);
}

/** A surface over two angles, closed in both or ending in points; neighbours share their corners to the bit. */
function wound(rings: number, around: number, at: (ring: number, turn: number) => Corner): Facet[] {
  return Array.from({ length: rings * around }, (_, nth): Facet[] => {
    const [ring, turn] = [Math.floor(nth / around), nth % around];
    const next = (turn + 1) % around;
    const [a, b, c, d] = [at(ring, turn), at(ring, next), at(ring + 1, next), at(ring + 1, turn)];
    return [
      [a, b, c],
      [a, c, d],
    ];
  }).flat();
}

/** A sphere by latitude and longitude: 4 n (n − 1) triangles, its corners on the sphere. */
export function sphere(radius: number, n: number, [x, y, z]: Corner = [0, 0, 0]): Facet[] {
  const at = (ring: number, turn: number): Corner => {
    if (ring === 0) return [x, y, z - radius];
    if (ring === n) return [x, y, z + radius];
    const [up, round] = [(Math.PI * ring) / n, (Math.PI * turn) / n];
    return [
      x + radius * Math.sin(up) * Math.cos(round),
      y + radius * Math.sin(up) * Math.sin(round),
      z - radius * Math.cos(up),
    ];
  };
  return wound(n, 2 * n, at).filter((facet) => new Set(facet.map(String)).size === 3);
}

/** A torus about the z axis: 2 n² triangles. */
export function torus(large: number, small: number, n: number): Facet[] {
  const at = (ring: number, turn: number): Corner => {
    const [along, about] = [(2 * Math.PI * (ring % n)) / n, (2 * Math.PI * turn) / n];
    const reach = large + small * Math.cos(about);
    return [reach * Math.cos(along), reach * Math.sin(along), -small * Math.sin(about)];
  };
  return wound(n, n, at);
}

/** Facing the other way. */
export function turned(facets: readonly Facet[]): Facet[] {
  return facets.map(([a, b, c]) => [a, c, b]);
}

export function moved(facets: readonly Facet[], [dx, dy, dz]: Corner): Facet[] {
  return facets.map((facet) => facet.map(([x, y, z]) => [x + dx, y + dy, z + dz]) as unknown as Facet);
}

/** Bytes in pieces of a size, so that nothing ends where a piece does. */
export function fileOf(bytes: Uint8Array, piece = 1000): MeshBytes {
  return {
    sizeBytes: bytes.length,
    unpacker: UNPACKER,
    *chunks() {
      for (let at = 0; at < bytes.length; at += piece) yield bytes.subarray(at, at + piece);
    },
  };
}

export function binaryStl(facets: readonly Facet[], head = ''): Uint8Array {
  const bytes = new Uint8Array(84 + 50 * facets.length);
  bytes.set(new TextEncoder().encode(head).subarray(0, 80));
  const view = new DataView(bytes.buffer);
  view.setUint32(80, facets.length, true);
  facets.forEach((facet, nth) => {
    for (const [place, value] of facet.flat().entries())
      view.setFloat32(84 + 50 * nth + 12 + 4 * place, value, true);
  });
  return bytes;
}

export function textStl(facets: readonly Facet[], write: (value: number) => string = String): string {
  const lines = facets.map(
    (facet) =>
      `facet normal 0 0 0\nouter loop\n${facet
        .map((corner) => `vertex ${corner.map(write).join(' ')}\n`)
        .join('')}endloop\nendfacet\n`,
  );
  return `solid part\n${lines.join('')}endsolid part\n`;
}
