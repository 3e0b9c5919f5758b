/**
 * One way things may be: the baths under one set of factors. Many of them run beside the best estimate.
 */
import { stand } from '../bath/air.ts';
import type { Load } from '../bath/load.ts';
import { carryOut, type Move } from '../bath/moves.ts';
import type { AllFactors } from '../bath/replay.ts';
import type { Shop } from '../bath/shop.ts';
import { type Bath, bathVolume, copyInto, emptyBath } from '../bath/state.ts';
import { emptyTally, type Tally } from '../bath/tally.ts';
import { type WashOutcome, washLoad } from '../bath/wash.ts';
import { copyFactors } from './factors.ts';

export interface World {
  baths: Bath[];
  factors: AllFactors;
}

const MS_PER_HOUR = 3_600_000;

/** Nobody asks where the liquid of a supposed bath went. */
const UNREAD: Tally = emptyTally();

/** A world in which nothing was poured yet. */
export function emptyWorld(shop: Shop, factors: AllFactors): World {
  return { baths: shop.tubs.map(emptyBath), factors: copyFactors(factors) };
}

/** Lets every bath of a world stand. */
export function standWorld(world: World, shop: Shop, ms: number): void {
  if (!(ms > 0)) return;
  world.baths.forEach((bath, place) => {
    stand(bath, shop.tubs[place]!, shop.resins, ms / MS_PER_HOUR, world.factors.air[place]!);
  });
}

/**
 * Takes a load through a world. Where it cannot be, since this world's bath ran dry or weak, nothing happens there: the
 * ledger says that the wash took place, and the world in which it could not is one of the unlikely ones.
 */
export function washWorld(world: World, shop: Shop, load: Load, kept: Bath[]): WashOutcome | undefined {
  copyAll(kept, world.baths);
  const outcome = washLoad(world.baths, load, shop, world.factors, UNREAD);
  if (!('why' in outcome)) return outcome;
  copyAll(world.baths, kept);
  return undefined;
}

function copyAll(to: readonly Bath[], from: readonly Bath[]): void {
  for (let place = 0; place < to.length; place += 1) copyInto(to[place]!, from[place]!);
}

/** Room for {@link washWorld} to keep the baths in. */
export function roomFor(shop: Shop): Bath[] {
  return shop.tubs.map(emptyBath);
}

/**
 * Moves liquid in a world as the ledger says it was moved.
 *
 * @param before - the baths of the best estimate before the move: a `fill` says that the bath held nothing more than theirs
 * @param solvent - the one last poured, which a move that names none takes
 */
export function moveWorld(
  world: World,
  on: { shop: Shop; move: Move; atMs: number; before: readonly Bath[]; solvent: string | undefined },
): void {
  const { shop, move, atMs } = on;
  const moving = { shop, baths: world.baths, tally: UNREAD, solvent: on.solvent };
  if (move.what === 'fill') {
    const place = shop.tubPlace.get(move.bath)!;
    copyInto(world.baths[place]!, on.before[place]!);
  }
  carryOut(within(move, world, shop), atMs, moving);
}

/** A volume that this world's bath does not hold is all it holds. */
function within(move: Move, world: World, shop: Shop): Move {
  if (move.what !== 'drain' && !(move.what === 'top-up' && move.from === 'clean')) return move;
  if (move.ml === undefined) return move;
  const from = move.what === 'drain' ? move.bath : 'clean';
  const holdsMl = bathVolume(world.baths[shop.tubPlace.get(from)!]!, shop.resins);
  return move.ml > holdsMl ? { ...move, ml: holdsMl } : move;
}
