/** Where triangles go as they are read. */
export interface Triangles {
  /** A triangle, counter-clockwise seen from outside: x y z of each corner. */
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
  ): void;
}
