/** The memory in which one thread hands triangles to another: a ring of slots, filled and emptied in turn. */
import type { Triangles } from '../mesh/triangles.ts';

/** Numbers of a triangle. */
const CORNERS = 9;
const TRIANGLES = 4096;
const SLOT = CORNERS * TRIANGLES;
/** So many may be full while one is filled: about 2.4 MB in all. */
const SLOTS = 8;

/** What both threads hold. */
export interface Slots {
  /** One number: slots that may be filled. */
  free: Int32Array;
  corners: Float64Array;
}

export function newSlots(): Slots {
  const free = new Int32Array(new SharedArrayBuffer(4));
  free[0] = SLOTS;
  return { free, corners: new Float64Array(new SharedArrayBuffer(8 * SLOT * SLOTS)) };
}

/** The end that fills; it waits where no slot is free, and so cannot be in the main thread. */
export class Filler implements Triangles {
  private slot = -1;
  private at = 0;
  private readonly slots: Slots;
  private readonly full: (triangles: number) => void;

  /** @param full - called with the number of triangles in a slot that may be emptied */
  constructor(slots: Slots, full: (triangles: number) => void) {
    this.slots = slots;
    this.full = full;
  }

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
    if (this.at === 0) this.begin();
    const { corners } = this.slots;
    const at = this.slot * SLOT + this.at;
    corners[at] = ax;
    corners[at + 1] = ay;
    corners[at + 2] = az;
    corners[at + 3] = bx;
    corners[at + 4] = by;
    corners[at + 5] = bz;
    corners[at + 6] = cx;
    corners[at + 7] = cy;
    corners[at + 8] = cz;
    this.at += CORNERS;
    if (this.at === SLOT) this.end();
  }

  /** Hands over what is in the slot that was begun. */
  end(): void {
    if (this.at > 0) this.full(this.at / CORNERS);
    this.at = 0;
  }

  private begin(): void {
    const { free } = this.slots;
    while (Atomics.load(free, 0) === 0) Atomics.wait(free, 0, 0);
    Atomics.sub(free, 0, 1);
    this.slot = (this.slot + 1) % SLOTS;
  }
}

/** The end that empties, in the order in which was filled. */
export class Emptier {
  private slot = -1;
  private readonly slots: Slots;

  constructor(slots: Slots) {
    this.slots = slots;
  }

  take(triangles: number, to: Triangles): void {
    const { free, corners } = this.slots;
    this.slot = (this.slot + 1) % SLOTS;
    const from = this.slot * SLOT;
    for (let at = from; at < from + CORNERS * triangles; at += CORNERS)
      to.add(
        corners[at]!,
        corners[at + 1]!,
        corners[at + 2]!,
        corners[at + 3]!,
        corners[at + 4]!,
        corners[at + 5]!,
        corners[at + 6]!,
        corners[at + 7]!,
        corners[at + 8]!,
      );
    Atomics.add(free, 0, 1);
    Atomics.notify(free, 0);
  }
}
