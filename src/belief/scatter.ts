/**
 * What the scatter of single washes leaves in the baths, README.md 3: the covariance of their resin for given factors, g².
 */
import type { Load } from '../bath/load.ts';
import type { Move } from '../bath/moves.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, resinMass } from '../bath/state.ts';
import type { WashOutcome } from '../bath/wash.ts';
import { ESTIMATED_SCATTER, washScatter } from './factors.ts';

/** Rows and columns in the order of `shop.tubs`. */
export type Covariance = Float64Array[];

export function noCovariance(size: number): Covariance {
  return Array.from({ length: size }, () => new Float64Array(size));
}

/**
 * How grams of resin pass through a wash. Each row is a bath after it, each column a bath before it; the last column is the
 * resin of the wash itself, in grams for one standard deviation of its scatter.
 *
 *     row_k += film of the row before;  row_k[last] += sd · dissolved_k;  film = share_k row_k;  row_k −= film
 *
 * @param relativeSd - standard deviation of ln c of what was washed; 0 for a carry-over that was measured
 */
export function passWash(size: number, load: Load, outcome: WashOutcome, relativeSd: number): Float64Array[] {
  const rows = Array.from({ length: size }, (_, row) => {
    const made = new Float64Array(size + 1);
    made[row] = 1;
    return made;
  });
  const many = load.times ?? 1;
  let film = new Float64Array(size + 1);
  load.baths.forEach((place, step) => {
    const row = rows[place]!;
    const share = outcome.shares[step]!;
    // Of several loads taken together the first stands for all their films and the last for one: in the mean of squares
    const newShare = share * Math.sqrt(((many + 1) * (2 * many + 1)) / (6 * many * many));
    row[size]! += relativeSd * outcome.dissolvedG[step]!;
    const next = new Float64Array(size + 1);
    for (let column = 0; column <= size; column += 1) {
      const grams = row[column]! + film[column]!;
      next[column] = (column === size ? newShare : share) * grams;
      row[column] = grams - next[column]!;
    }
    film = next;
  });
  return rows;
}

/**
 * Standard deviation of ln Σ c over washes of scatter s each, 0.25 or that of washes from memory: s sqrt(Σ c²)/Σ c. A carry-over that
 * was measured does not scatter; how often there was one does, where that was not counted.
 */
export function scatterOf(lump: { load: Load; carryG: number; carrySquareG2: number }): number {
  if (lump.load.givenCarryG !== undefined) return lump.load.estimated ? ESTIMATED_SCATTER : 0;
  if (lump.carryG === 0) return 0;
  return (washScatter(lump.load) * Math.sqrt(lump.carrySquareG2)) / lump.carryG;
}

/** The covariance after baths became `rows` of what they were; a last column of `rows` beyond the baths is left out. */
export function passed(covariance: Covariance, rows: readonly Float64Array[]): Covariance {
  const size = covariance.length;
  const half = rows.map((row) => {
    const made = new Float64Array(size);
    for (let column = 0; column < size; column += 1)
      for (let inner = 0; inner < size; inner += 1)
        made[column]! += row[inner]! * covariance[inner]![column]!;
    return made;
  });
  const after = noCovariance(size);
  for (let row = 0; row < size; row += 1)
    for (let column = 0; column < size; column += 1)
      for (let inner = 0; inner < size; inner += 1)
        after[row]![column]! += half[row]![inner]! * rows[column]![inner]!;
  return after;
}

/** Adds what comes new: b bᵀ for a column b. */
export function addColumn(covariance: Covariance, column: ArrayLike<number>): void {
  for (let row = 0; row < covariance.length; row += 1)
    for (let other = 0; other < covariance.length; other += 1)
      covariance[row]![other]! += column[row]! * column[other]!;
}

/** How grams of resin pass when liquid moves; the baths of the best estimate before and after tell the shares. */
export function passMove(
  move: Move,
  before: readonly Bath[],
  after: readonly Bath[],
  shop: Shop,
): Float64Array[] {
  const size = before.length;
  const rows = Array.from({ length: size }, (_, row) => {
    const made = new Float64Array(size);
    made[row] = 1;
    return made;
  });
  const place = (name: string) => shop.tubPlace.get(name)!;
  const left = (bath: number) => shareOf(resinMass(after[bath]!), resinMass(before[bath]!));
  switch (move.what) {
    case 'fill':
      break;
    case 'top-up':
      if (move.from === 'clean') {
        const stays = left(place('clean'));
        rows[place('clean')]![place('clean')] = stays;
        rows[place(move.bath)]![place('clean')]! += 1 - stays;
      }
      break;
    case 'drain':
      rows[place(move.bath)]![place(move.bath)] = left(place(move.bath));
      break;
    case 'refill':
      rows[place(move.bath)]!.fill(0);
      break;
    case 'rotate':
      rows[place('dirty')]!.fill(0);
      rows[place('dirty')]![place('clean')] = shareOf(
        resinMass(after[place('dirty')]!),
        resinMass(before[place('clean')]!),
      );
      rows[place('clean')]!.fill(0);
      break;
    default:
      move satisfies never;
  }
  return rows;
}

function shareOf(part: number, all: number): number {
  return all > 0 ? Math.min(1, part / all) : 0;
}

/** The lower triangle L with L Lᵀ = covariance (Cholesky); rows that carry nothing are zero. */
export function rootOf(covariance: Covariance): Float64Array[] {
  const size = covariance.length;
  const root = noCovariance(size);
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let rest = covariance[row]![column]!;
      for (let inner = 0; inner < column; inner += 1) rest -= root[row]![inner]! * root[column]![inner]!;
      if (row === column) root[row]![column] = Math.sqrt(Math.max(0, rest));
      else root[row]![column] = root[column]![column]! > 0 ? rest / root[column]![column]! : 0;
    }
  }
  return root;
}
