/**
 * Triangles as they come in: their sums, and while there are not too many also which corners they share.
 *
 * All in typed arrays: a million triangles of a closed part take 24 bytes a corner, 12 a triangle and 4 a slot of the
 * table, about 30 MB.
 */

import type { Triangles } from './triangles.ts';

/** Beyond so many only sums are kept: holes, and hollows that are shut, cannot be found then. */
export const MOST_INDEXED = 2_000_000;
/** A closed surface of so many triangles has half as many corners; with more than this it is none, and only sums are kept as well. */
const MOST_CORNERS = 1_500_000;

const NONE = new Float64Array(0);

export class Surface implements Triangles {
  triangles = 0;
  /** Those without a surface. */
  flat = 0;
  /** False where there are more than are indexed. */
  indexed: boolean;
  /** False once there were more corners than a closed surface can have. */
  shared = true;
  /** Distinct corners, x y z. */
  corners: Float64Array = NONE;
  cornerCount = 0;
  /** Three corners a triangle, those of triangles that join three distinct ones. */
  faces: Uint32Array;
  faceCount = 0;
  readonly low: [number, number, number] = [Infinity, Infinity, Infinity];
  readonly high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  /** Where the first corner lies: sums of volume are taken about it, so that a part far from nought keeps its digits. */
  origin: readonly [number, number, number] | undefined;
  private readonly most: number;
  private table: Int32Array;
  private pieceStart = 0;
  /** First corners of all pieces. */
  private readonly pieces: number[] = [0];
  private readonly area = new Sum();
  private readonly volume = new Sum();
  private readonly facing: [number, number, number] = [0, 0, 0];

  /** @param options.expected - triangles to come, as far as is known; options.most - as {@link MOST_INDEXED} */
  constructor({ expected = 1000, most = MOST_INDEXED }: { expected?: number; most?: number } = {}) {
    this.most = most;
    this.indexed = expected <= most;
    const room = this.indexed ? Math.max(64, expected) : 0;
    this.faces = new Uint32Array(3 * room);
    // A closed surface has half as many corners as triangles.
    this.corners = new Float64Array(3 * (Math.ceil(room * 0.52) + 64));
    this.table = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(64, room))));
  }

  /** Surface of all triangles, square units. */
  get areaSum(): number {
    return this.area.value;
  }

  /** What the triangles enclose, as far as they do, cubic units; negative when they face inwards. */
  get volumeSum(): number {
    return this.volume.value;
  }

  /**
   * How far the surface is from closed, as a share of it: the sum of its triangles as vectors, which is nought where it encloses something.
   * The converse does not hold.
   */
  get gap(): number {
    const [x, y, z] = this.facing;
    return Math.hypot(x, y, z) / this.areaSum;
  }

  /** What follows shares no corners with what came before, wherever it lies. */
  piece(): void {
    this.pieceStart = this.cornerCount;
    if (this.pieces.at(-1) !== this.pieceStart) this.pieces.push(this.pieceStart);
  }

  /** Adds a triangle, counter-clockwise seen from outside. */
  add(
    ax: number,
    ay: number,
    az: number,
    bx: number,
    by: number,
    bz: number,
    cx: number,
    cy: number,
    cz: number,
  ): void {
    this.triangles += 1;
    this.origin ??= [ax, ay, az];
    this.stretch(ax, ay, az);
    this.stretch(bx, by, bz);
    this.stretch(cx, cy, cz);
    const { facing } = this;
    facing[0] += ((by - ay) * (cz - az) - (bz - az) * (cy - ay)) / 2;
    facing[1] += ((bz - az) * (cx - ax) - (bx - ax) * (cz - az)) / 2;
    facing[2] += ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 2;
    const area = triangleArea(ax, ay, az, bx, by, bz, cx, cy, cz);
    if (!(area > 0)) this.flat += 1;
    this.area.add(area);
    const [ox, oy, oz] = this.origin;
    this.volume.add(
      tetrahedron(ax - ox, ay - oy, az - oz, bx - ox, by - oy, bz - oz, cx - ox, cy - oy, cz - oz),
    );
    if (this.indexed && (this.triangles > this.most || this.cornerCount > MOST_CORNERS)) this.giveUpIndex();
    if (!this.indexed) return;
    const a = this.cornerAt(ax, ay, az);
    const b = this.cornerAt(bx, by, bz);
    const c = this.cornerAt(cx, cy, cz);
    if (a !== b && b !== c && c !== a) this.keep(a, b, c);
  }

  private stretch(x: number, y: number, z: number): void {
    const { low, high } = this;
    if (x < low[0]) low[0] = x;
    if (y < low[1]) low[1] = y;
    if (z < low[2]) low[2] = z;
    if (x > high[0]) high[0] = x;
    if (y > high[1]) high[1] = y;
    if (z > high[2]) high[2] = z;
  }

  private keep(a: number, b: number, c: number): void {
    let at = 3 * this.faceCount;
    if (at === this.faces.length) {
      const grown = new Uint32Array(Math.min(2 * at, 3 * this.most));
      grown.set(this.faces);
      this.faces = grown;
    }
    this.faces[at++] = a;
    this.faces[at++] = b;
    this.faces[at] = c;
    this.faceCount += 1;
  }

  private giveUpIndex(): void {
    this.indexed = false;
    this.shared = this.cornerCount <= MOST_CORNERS;
    this.corners = NONE;
    this.faces = new Uint32Array(0);
    this.table = new Int32Array(0);
    this.cornerCount = 0;
    this.faceCount = 0;
  }

  /** The number of the corner that lies here, a new one if there is none in this piece. */
  private cornerAt(x: number, y: number, z: number): number {
    const { corners, table } = this;
    const mask = table.length - 1;
    let slot = hash(x, y, z, this.pieceStart) & mask;
    for (let found = table[slot]!; found !== 0; found = table[slot]!) {
      const at = 3 * (found - 1);
      if (corners[at] === x && corners[at + 1] === y && corners[at + 2] === z && found > this.pieceStart)
        return found - 1;
      slot = (slot + 1) & mask;
    }
    return this.newCorner(x, y, z, slot);
  }

  private newCorner(x: number, y: number, z: number, slot: number): number {
    const corner = this.cornerCount;
    if (3 * corner === this.corners.length) {
      const grown = new Float64Array(3 * Math.ceil(corner * 1.6));
      grown.set(this.corners);
      this.corners = grown;
    }
    this.corners[3 * corner] = x;
    this.corners[3 * corner + 1] = y;
    this.corners[3 * corner + 2] = z;
    this.table[slot] = corner + 1;
    this.cornerCount = corner + 1;
    if (3 * this.cornerCount > 2 * this.table.length) this.widenTable();
    return corner;
  }

  private widenTable(): void {
    const table = new Int32Array(2 * this.table.length);
    const mask = table.length - 1;
    let piece = 0;
    for (let corner = 0; corner < this.cornerCount; corner += 1) {
      const at = 3 * corner;
      if (this.pieces[piece + 1] === corner) piece += 1;
      const [x, y, z] = [this.corners[at]!, this.corners[at + 1]!, this.corners[at + 2]!];
      let slot = hash(x, y, z, this.pieces[piece]!) & mask;
      while (table[slot] !== 0) slot = (slot + 1) & mask;
      table[slot] = corner + 1;
    }
    this.table = table;
  }

  /** The table is needed no more once all triangles are in. */
  close(): void {
    this.table = new Int32Array(1);
  }
}

/** A sum that does not lose small terms in a large total (Neumaier 1974, compensated summation). */
class Sum {
  private sum = 0;
  private lost = 0;

  get value(): number {
    return this.sum + this.lost;
  }

  add(term: number): void {
    const next = this.sum + term;
    this.lost += Math.abs(this.sum) >= Math.abs(term) ? this.sum - next + term : term - next + this.sum;
    this.sum = next;
  }
}

const PLACES = new Float64Array(3);
const BITS = new Uint32Array(PLACES.buffer);

/**
 * The same for equal places of one piece; noughts of either sign are equal. Pieces are told apart, since many of them may lie in the same
 * place.
 */
function hash(x: number, y: number, z: number, piece: number): number {
  PLACES[0] = x + 0;
  PLACES[1] = y + 0;
  PLACES[2] = z + 0;
  let mixed = Math.imul(BITS[1]! + Math.imul(BITS[0]! + piece, 0x27d4eb2f), 0x9e3779b1);
  mixed = Math.imul((mixed ^ (mixed >>> 15)) + BITS[3]! + Math.imul(BITS[2]!, 0x165667b1), 0x85ebca6b);
  mixed = Math.imul((mixed ^ (mixed >>> 13)) + BITS[5]! + Math.imul(BITS[4]!, 0x2c1b3c6d), 0xc2b2ae35);
  return mixed ^ (mixed >>> 16);
}

/**
 * Surface of a triangle, in the square of the unit of its corners.
 *
 *     A = |(b − a) × (c − a)|/2
 *
 * Example: (0,0,0), (3,0,0), (0,4,0) → 6.
 */
export function triangleArea(
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  cx: number,
  cy: number,
  cz: number,
): number {
  const [ux, uy, uz] = [bx - ax, by - ay, bz - az];
  const [vx, vy, vz] = [cx - ax, cy - ay, cz - az];
  const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  return Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
}

/**
 * Volume of the tetrahedron of a triangle and the origin, positive where the triangle is seen counter-clockwise from
 * outside; over a closed surface these add up to what it encloses (divergence theorem).
 *
 *     V = a · (b × c)/6
 *
 * Example: (1,0,0), (0,1,0), (0,0,1) → 1/6.
 */
export function tetrahedron(
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
  cx: number,
  cy: number,
  cz: number,
): number {
  return (ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / 6;
}
