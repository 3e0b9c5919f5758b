/**
 * Washes that follow each other, taken as one. The best estimate goes wash by wash; the worlds beside it, which say only how
 * far from it things may be, take a few at a time.
 */
import type { Load } from '../bath/load.ts';
import type { Shop } from '../bath/shop.ts';
import { SCATTER_MEAN } from './factors.ts';

export interface Lump {
  load: Load;
  /** Times of its first and last wash. */
  firstMs: number;
  lastMs: number;
  /** Σ c and Σ c² of what it carries in at the prior medians, g and g². */
  carryG: number;
  carrySquareG2: number;
}

/** A lump carries out at most this share of the smallest bath it goes through: what lumping neglects is of its square. */
const LARGEST_SHARE = 0.06;
/** A lump stands in the middle of its time, so it must not be long. */
const LONGEST_MS = 4 * 86_400_000;

/** A lump of one wash; what it brings is at the mean of its scatter, unless it was measured. */
export function lumpOf(load: Load, atMs: number): Lump {
  const lump: Lump = {
    load: { ...load, filmG: 0, trappedG: 0, prerinseShare: 0 },
    firstMs: atMs,
    lastMs: atMs,
    carryG: 0,
    carrySquareG2: 0,
  };
  bring(lump, load);
  return lump;
}

/** The load at the mean of its scatter: what loads bring that are still to come, or that are taken together. */
export function atMeanScatter(load: Load): Load {
  return { ...load, filmG: SCATTER_MEAN * load.filmG, trappedG: SCATTER_MEAN * load.trappedG };
}

function bring(lump: Lump, load: Load): void {
  const mean = atMeanScatter(load);
  const filmG = mean.filmG * (1 - load.prerinseShare);
  const { trappedG } = mean;
  lump.load.filmG += filmG;
  lump.load.trappedG += trappedG;
  lump.carryG += filmG + trappedG;
  lump.carrySquareG2 += (filmG + trappedG) ** 2;
}

/** Adds a wash to a lump if the two can be one: the same way, the same soaks, the same resin, nothing measured, both counted or
 * both from memory. */
export function joined(lump: Lump, load: Load, atMs: number, shop: Shop): boolean {
  const { load: all } = lump;
  if (!alike(all, load) || atMs - lump.firstMs > LONGEST_MS) return false;
  const most = LARGEST_SHARE * Math.min(...all.baths.map((place) => shop.tubs[place]!.markMl));
  if (all.dragMl + load.dragMl > most) return false;
  bring(lump, load);
  all.dragMl += load.dragMl;
  all.areaCm2 += load.areaCm2;
  all.times = (all.times ?? 1) + 1;
  lump.lastMs = atMs;
  return true;
}

function alike(one: Load, other: Load): boolean {
  return (
    one.resin === other.resin &&
    one.midrinseShare === other.midrinseShare &&
    one.estimated === other.estimated &&
    !isMeasured(one) &&
    !isMeasured(other) &&
    same(one.baths, other.baths) &&
    same(one.soaks, other.soaks)
  );
}

function isMeasured(load: Load): boolean {
  return load.givenCarryG !== undefined || load.givenDragMl !== undefined;
}

function same(one: readonly number[], other: readonly number[]): boolean {
  return one.length === other.length && one.every((value, place) => value === other[place]);
}
