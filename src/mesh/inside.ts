/**
 * Which shells lie within which: from a few points of each shell a ray goes upwards, and its crossings with the other
 * shells are counted with their sign.
 */
import type { Shell, Shells } from './shells.ts';
import type { Surface } from './surface.ts';

export interface Inside {
  /** For each shell those that hold all of its points. */
  within: number[][];
  /** Pairs of shells of which one holds some of the other's points, not all. */
  crossing: number;
}

/** Steps after which the question is given up: a second, at most. */
const MOST_STEPS = 100_000_000;
/** How far a point is moved from the skin of its shell towards the middle, so that shells which touch do not lie in one another. */
const INWARD = 1e-5;

/** @returns undefined where it would take too long to say */
export function findInside(surface: Surface, shells: Shells): Inside | undefined {
  const points = pointsOf(surface, shells.list);
  const counts = crossings(surface, shells, points);
  return counts && sortOut(shells.list, points, counts);
}

interface Points {
  x: Float64Array;
  y: Float64Array;
  z: Float64Array;
  shell: Int32Array;
}

const PER_SHELL = 6;

function pointsOf({ corners }: Surface, list: readonly Shell[]): Points {
  const size = PER_SHELL * list.length;
  const points: Points = {
    x: new Float64Array(size),
    y: new Float64Array(size),
    z: new Float64Array(size),
    shell: new Int32Array(size),
  };
  list.forEach(({ extremes, low, high }, place) => {
    extremes.forEach((corner, nth) => {
      const at = PER_SHELL * place + nth;
      const moved = (axis: 0 | 1 | 2) => {
        const value = corners[3 * corner + axis]!;
        return value + ((low[axis] + high[axis]) / 2 - value) * INWARD;
      };
      points.x[at] = moved(0);
      points.y[at] = moved(1);
      points.z[at] = moved(2);
      points.shell[at] = place;
    });
  });
  return points;
}

/** How often, with its sign, the ray of a point goes through a shell: by point × number of shells + shell. */
type Counts = Map<number, number>;

function crossings(
  { faces, faceCount, corners }: Surface,
  { of, list }: Shells,
  points: Points,
): Counts | undefined {
  const grid = new Grid(points);
  const counts: Counts = new Map();
  const triangle = new Triangle(corners);
  let shell = 0;
  const see = (point: number): void => {
    if (points.shell[point] === shell) return;
    const sign = triangle.above(points.x[point]!, points.y[point]!, points.z[point]!);
    if (sign === 0) return;
    const key = point * list.length + shell;
    counts.set(key, (counts.get(key) ?? 0) + sign);
  };
  for (let at = 0; at < 3 * faceCount; at += 3) {
    shell = of[faces[at]!]!;
    triangle.take(faces[at]!, faces[at + 1]!, faces[at + 2]!);
    if (!grid.each(triangle, see)) return undefined;
  }
  return counts;
}

/** Points in the cells of a square net, seen from above. */
class Grid {
  private readonly cells: number;
  private readonly starts: Int32Array;
  private readonly order: Int32Array;
  private readonly low: readonly [number, number];
  private readonly perUnit: readonly [number, number];
  private steps = 0;

  constructor({ x, y }: Points) {
    this.cells = Math.max(1, Math.min(256, Math.ceil(Math.sqrt(x.length))));
    const span = (values: Float64Array) => {
      let [low, high] = [Infinity, -Infinity];
      for (const value of values) {
        if (value < low) low = value;
        if (value > high) high = value;
      }
      return [low, high > low ? this.cells / (high - low) : 0] as const;
    };
    const [across, along] = [span(x), span(y)];
    this.low = [across[0], along[0]];
    this.perUnit = [across[1], along[1]];
    this.starts = new Int32Array(this.cells ** 2 + 2);
    this.order = new Int32Array(x.length);
    this.fill(x, y);
  }

  private fill(x: Float64Array, y: Float64Array): void {
    const cellOf = (point: number) => this.cell(0, x[point]!) + this.cells * this.cell(1, y[point]!);
    const { starts, order } = this;
    for (let point = 0; point < x.length; point += 1) starts[cellOf(point) + 2]! += 1;
    for (let cell = 2; cell < starts.length; cell += 1) starts[cell]! += starts[cell - 1]!;
    for (let point = 0; point < x.length; point += 1) order[starts[cellOf(point) + 1]!++] = point;
  }

  private cell(axis: 0 | 1, value: number): number {
    const cell = Math.floor((value - this.low[axis]) * this.perUnit[axis]);
    return cell < 0 ? 0 : cell >= this.cells ? this.cells - 1 : cell;
  }

  /** @returns false once there were too many steps */
  each(over: Triangle, see: (point: number) => void): boolean {
    const [left, right] = [this.cell(0, over.left), this.cell(0, over.right)];
    const [front, back] = [this.cell(1, over.front), this.cell(1, over.back)];
    for (let row = front; row <= back; row += 1) {
      const from = this.starts[left + this.cells * row]!;
      const to = this.starts[right + this.cells * row + 1]!;
      this.steps += 1 + to - from;
      for (let at = from; at < to; at += 1) see(this.order[at]!);
    }
    return this.steps < MOST_STEPS;
  }
}

/** One triangle at a time, so that a million leave nothing behind. */
class Triangle {
  left = 0;
  right = 0;
  front = 0;
  back = 0;
  private a = 0;
  private b = 0;
  private c = 0;
  private readonly corners: Float64Array;

  constructor(corners: Float64Array) {
    this.corners = corners;
  }

  take(a: number, b: number, c: number): void {
    const { corners } = this;
    [this.a, this.b, this.c] = [a, b, c];
    const [ax, bx, cx] = [corners[3 * a]!, corners[3 * b]!, corners[3 * c]!];
    const [ay, by, cy] = [corners[3 * a + 1]!, corners[3 * b + 1]!, corners[3 * c + 1]!];
    this.left = Math.min(ax, bx, cx);
    this.right = Math.max(ax, bx, cx);
    this.front = Math.min(ay, by, cy);
    this.back = Math.max(ay, by, cy);
  }

  /** 1 or -1 where it lies straight above a point, by the side that is seen from there; else 0. */
  above(x: number, y: number, z: number): number {
    const { a, b, c } = this;
    const turns = this.side(a, b, x, y) + this.side(b, c, x, y) + this.side(c, a, x, y);
    return turns !== 0 && this.heightAt(x, y) > z ? turns : 0;
  }

  /**
   * Whether an edge, seen from above, crosses the line from the point to the right, and which way. The edge is always
   * worked out from its lower corner, so that both of its triangles get the same answer and no ray slips between them.
   */
  private side(from: number, to: number, x: number, y: number): number {
    const { corners } = this;
    const [a, b] = from < to ? [from, to] : [to, from];
    const [ax, ay, bx, by] = [corners[3 * a]!, corners[3 * a + 1]!, corners[3 * b]!, corners[3 * b + 1]!];
    if (ay > y === by > y) return 0;
    if (!(ax + ((y - ay) / (by - ay)) * (bx - ax) > x)) return 0;
    return by > ay === from < to ? 1 : -1;
  }

  private heightAt(x: number, y: number): number {
    const { corners } = this;
    const [a, b, c] = [3 * this.a, 3 * this.b, 3 * this.c];
    const [ux, uy, uz] = [0, 1, 2].map((axis) => corners[b + axis]! - corners[a + axis]!) as [
      number,
      number,
      number,
    ];
    const [vx, vy, vz] = [0, 1, 2].map((axis) => corners[c + axis]! - corners[a + axis]!) as [
      number,
      number,
      number,
    ];
    const [px, py] = [x - corners[a]!, y - corners[a + 1]!];
    const twice = ux * vy - uy * vx;
    return corners[a + 2]! + ((px * vy - py * vx) * uz + (ux * py - uy * px) * vz) / twice;
  }
}

function sortOut(list: readonly Shell[], points: Points, counts: Counts): Inside {
  const held = new Map<number, number>();
  for (const [key, turns] of counts) {
    if (turns === 0) continue;
    const [point, outer] = [Math.floor(key / list.length), key % list.length];
    const pair = points.shell[point]! * list.length + outer;
    held.set(pair, (held.get(pair) ?? 0) + 1);
  }
  const inside: Inside = { within: list.map(() => []), crossing: 0 };
  for (const [pair, number] of held) {
    const [inner, outer] = [Math.floor(pair / list.length), pair % list.length];
    if (number < PER_SHELL) inside.crossing += 1;
    else if (isLarger(list, outer, inner)) inside.within[inner]!.push(outer);
  }
  return inside;
}

/** Of two that are the same the first counts as the outer one. */
function isLarger(list: readonly Shell[], outer: number, inner: number): boolean {
  const [outside, within] = [Math.abs(list[outer]!.volume), Math.abs(list[inner]!.volume)];
  return outside === within ? outer < inner : outside > within;
}
